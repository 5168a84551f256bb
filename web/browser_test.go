package main

func closeBrowser() {}
