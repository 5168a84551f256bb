// The messages between page and engine. Twin of Request and Reply in core/desk/desk.go; a test compares the two.

import type { Deal } from "./store";

export const VERSION = 1;

export interface Request {
  v: number;
  id: number;
  act: string;
  slot?: string;
  option?: string;
  field?: string;
  key?: string;
  value?: string;
  checked?: boolean;
  text?: string;
  link?: string;
  signature?: string;
  form?: Record<string, string>;
  seen?: string[];
  timed?: boolean;
  today?: string;
  device?: string;
  given?: string[];
  past?: Past[];
}

export interface Past {
  what: string;
  spec: string;
}

export interface Fragment {
  id: string;
  html: string;
}

export interface SavedFile {
  name: string;
  type: string;
  text: string;
  base64?: boolean; // the text is a file in base64, which is no text
}

export interface Paper {
  title: string;
  html?: string;
  files?: SavedFile[];
}

export interface Reply {
  v: number;
  id: number;
  error?: string;
  fragments?: Fragment[];
  link?: string;
  spec?: string;
  plain?: boolean;
  apart?: boolean;
  fresh?: boolean;
  announcement?: string;
  next?: string;
  more?: boolean;
  paper?: Paper;
  boat?: string;
  total?: string;
  pushed?: Past;
  popped?: boolean;
  quote?: string;
  wanted?: string[];
  put?: Deal[];
  file?: SavedFile;
  took?: Record<string, number>;
}

// What the worker is told first, and what it says of itself.
export interface Start {
  engine: string;
  pack: string | Uint8Array; // its address, or itself where it was sealed
}

export type ToWorker = { start: Start } | { request: Request };
// restarted is why the engine had to be started anew before the boat that was answered last: the reply is to that.
export type FromWorker = { ready: true } | { failed: string } | { reply: Reply; restarted?: string };
