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
  unspoken?: string;
  units?: string;
}

export interface Effect {
  price?: string;
  figures?: Record<string, number>;
}

// What was done to the boat, without words: it is read in another language too.
export interface Did {
  act: string;
  of?: string;
  back?: number;
}

export interface Past {
  did: Did;
  spec: string;
  effect?: Effect;
}

export interface Fragment {
  id: string;
  html: string;
}

// The page around its panels in another language: of the body, with panels that are empty.
export interface Frame {
  language: string;
  title: string;
  html: string;
}

// A file to save. With base64 its text stands for bytes that are no text.
export interface SavedFile {
  name: string;
  type: string;
  text: string;
  base64?: boolean;
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
  needs?: string;
  frame?: Frame;
  beside?: string;
  took?: Record<string, number>;
}

// What the worker is told first: where engine and pack are, or, when it is started again, what they are; which language
// the page is in, and where the words of each language are that the engine does not have in itself.
export interface Start {
  engine: string | WebAssembly.Module;
  pack: string | Uint8Array;
  language: string;
  words: Record<string, string[]>;
}

// Coming is the engine on its way, and of how many bytes; 0 where the host does not say.
export interface Coming {
  body: ReadableStream<Uint8Array<ArrayBuffer>>;
  total: number;
}

export type ToWorker = { start: Start; coming?: Coming } | { request: Request } | { ping: true };

// While the engine comes, the page is told how many bytes of it are there; of how many, where the host says that, else
// 0. Once it is ready, the page is given what it was started with. A file that is missing is named, with the
// reason; a fault is the end of this engine.
export type FromWorker =
  | { ready: Start }
  | { got: number; total: number }
  | { missing: string; reason: string }
  | { fault: string }
  | { alive: true }
  | { reply: Reply };
