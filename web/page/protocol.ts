// The messages between page and engine. Twin of Request and Reply in core/desk/desk.go; a test compares the two.

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
  form?: Record<string, string>;
  now?: string;
  past?: string[];
  seen?: string[];
  timed?: boolean;
}

export interface Fragment {
  id: string;
  html: string;
}

export interface SavedFile {
  name: string;
  type: string;
  text: string;
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
  now?: string;
  back?: string;
  steps?: number;
  took?: Record<string, number>;
}

// What the worker is told first, and what it says of itself.
export interface Start {
  engine: string;
  pack: string;
}

export type ToWorker = { start: Start } | { request: Request };
export type FromWorker = { ready: true } | { failed: string } | { reply: Reply };
