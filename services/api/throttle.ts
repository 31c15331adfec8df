import { isIPv6 } from "node:net";
import { hashOf } from "../access/secrets.ts";
import type { AttemptKey } from "../store/attempts.ts";

/** Our choice: a person who has forgotten a password tries a few times; NIST SP 800-63B allows at most 100 failures in a row. */
const perNameMost = 10;
const perAddressMost = 30;

/** Hashed, because people type a password for a name now and then. */
export const nameKey = (name: string): string => hashOf(`name ${name.toLowerCase()}`);

export function attemptKeys(name: string, address: string): AttemptKey[] {
  return [
    { key: nameKey(name), most: perNameMost },
    { key: hashOf(`address ${networkOf(address)}`), most: perAddressMost },
  ];
}

/** Of an IPv6 address the first 64 bits: whoever has one address there has them all (RFC 4291, section 2.5.4). */
export function networkOf(address: string): string {
  const mapped = /^::ffff:([0-9.]+)$/i.exec(address)?.[1];
  if (mapped !== undefined) return mapped;
  if (!isIPv6(address)) return address;
  const [head = "", tail] = address.split("%")[0]!.split("::");
  const before = head === "" ? [] : head.split(":");
  const after = tail === undefined || tail === "" ? [] : tail.split(":");
  const zeros = Array.from({ length: Math.max(0, 8 - before.length - after.length) }, () => "0");
  return [...before, ...zeros, ...after]
    .slice(0, 4)
    .map((group) => Number.parseInt(group, 16).toString(16))
    .join(":");
}
