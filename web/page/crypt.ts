// What page and worker need of base64url and WebCrypto. A browser has WebCrypto only where nobody can have changed the
// page on its way: over https, from this machine, or from a file.

export const subtle: SubtleCrypto | undefined = globalThis.crypto?.subtle;

export const utf8 = (text: string) => new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>;

export function base64url(bytes: Uint8Array): string {
  let text = "";
  for (const b of bytes) text += String.fromCharCode(b);
  return btoa(text).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

// bytesOf reads base64url, and takes only the one way in which these bytes are written.
export function bytesOf(text: string): Uint8Array<ArrayBuffer> | undefined {
  if (!/^[\w-]*$/.test(text) || text.length % 4 === 1) return undefined;
  const plain = atob(text.replaceAll("-", "+").replaceAll("_", "/"));
  const bytes = new Uint8Array(plain.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = plain.charCodeAt(i);
  const unused = text.length % 4 === 2 ? 0x0f : text.length % 4 === 3 ? 0x03 : 0; // bits of the last digit
  const last = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_".indexOf(text.at(-1) ?? "A");
  return last & unused ? undefined : bytes;
}

export function joined(...parts: Uint8Array[]): Uint8Array<ArrayBuffer> {
  const all = new Uint8Array(parts.reduce((n, p) => n + p.length, 0));
  let at = 0;
  for (const p of parts) {
    all.set(p, at);
    at += p.length;
  }
  return all;
}

// objectOf parses JSON that has to be an object.
export function objectOf(text: string): Record<string, unknown> | undefined {
  try {
    const found: unknown = JSON.parse(text);
    return typeof found === "object" && found !== null && !Array.isArray(found)
      ? (found as Record<string, unknown>)
      : undefined;
  } catch {
    return undefined;
  }
}
