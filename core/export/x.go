package export
