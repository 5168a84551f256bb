// Whether a quotation was signed by the yard: what core/seal does on the command line, by WebCrypto.
import { base64url, bytesOf, objectOf, subtle, utf8 } from "./crypt";

// canonical writes JSON in the one way of RFC 8785, which is how JavaScript writes it, with the keys in order.
export function canonical(v: unknown): string {
  if (Array.isArray(v)) return `[${v.map(canonical).join(",")}]`;
  if (typeof v !== "object" || v === null) return JSON.stringify(v);
  const object = v as Record<string, unknown>;
  const members = Object.keys(object).sort().map((k) => `${JSON.stringify(k)}:${canonical(object[k])}`);
  return `{${members.join(",")}}`;
}

// A public key of the pack.
export interface Key {
  kty: string;
  crv: string;
  x: string;
}

// thumbprint is the name of a key by RFC 7638.
async function thumbprint(k: Key): Promise<string> {
  const members = `{"crv":"${k.crv}","kty":"${k.kty}","x":"${k.x}"}`;
  return base64url(new Uint8Array(await subtle!.digest("SHA-256", utf8(members))));
}

// verdict is one of the words of quote.Verdict in core/quote; "" where nothing is to be said of a signature.
export async function verdict(text: string, keys: Key[]): Promise<string> {
  const file = objectOf(text);
  if (!file || typeof file.kind !== "string") return "";
  const { signature, ...rest } = file;
  if (signature === undefined) return keys.length > 0 ? "unsigned" : "";
  if (!subtle || keys.length === 0) return "unchecked";
  const [head, between, signed, ...more] = String(signature).split(".");
  const headBytes = bytesOf(head ?? "");
  const bytes = bytesOf(signed ?? "");
  if (!headBytes || between !== "" || !bytes || more.length > 0) return "mismatch";
  const by = objectOf(new TextDecoder().decode(headBytes));
  if (by?.alg !== "EdDSA") return "mismatch";
  for (const k of keys) {
    if ((await thumbprint(k)) !== by.kid) continue;
    let key: CryptoKey;
    try {
      key = await subtle.importKey("jwk", { ...k }, "Ed25519", false, ["verify"]);
    } catch {
      return "unchecked"; // a browser without Ed25519
    }
    const input = utf8(`${head}.${base64url(utf8(canonical(rest)))}`);
    return (await subtle.verify("Ed25519", key, bytes, input)) ? "signed" : "mismatch";
  }
  return "other-key";
}
