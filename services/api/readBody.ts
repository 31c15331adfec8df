import express, { type RequestHandler } from "express";

/** Our choice: a field with ten thousand corners has a third of it. */
export const usualBodyBytes = 1_048_576;
/** For whole operations, their weather and sets of cases with a history: a season of hourly weather of ten stations takes half of it. */
export const wholeBodyBytes = 30 * 1_048_576;

/** Our choice: an operation is 8 deep, a set of cases 14. What walks through a document by calling itself then never runs out of stack. */
const deepest = 64;
/** Our choice: so that 30 MB of empty lists do not become a gigabyte of objects. */
export const mostValues = 3_000_000;

/** Reads JSON (RFC 8259, so UTF-8), once it is known to be neither too large nor too deep. */
export function readBody(bytesMax: number): RequestHandler {
  return express.json({
    limit: bytesMax,
    strict: false,
    verify(_request, _response, body, charset) {
      if (charset !== "utf-8") throw new BodyRefused(415, "Send JSON in UTF-8.");
      const excess = excessOf(body);
      if (excess !== null) throw new BodyRefused(413, excess);
    },
  });
}

/** A body that the parser is not given. */
export class BodyRefused extends Error {
  readonly status: number;
  constructor(status: number, message: string) {
    super(message);
    this.status = status;
  }
}

const quote = 0x22;
const backslash = 0x5c;
const comma = 0x2c;
const [openList, closeList, openObject, closeObject] = [0x5b, 0x5d, 0x7b, 0x7d];

/** Looks at brackets, commas and quotes only: whether it is JSON at all the parser finds out. */
export function excessOf(json: Uint8Array): string | null {
  let depth = 0;
  let values = 0;
  for (let at = 0; at < json.length; at++) {
    const byte = json[at];
    if (byte === quote) {
      for (at++; at < json.length && json[at] !== quote; at++) if (json[at] === backslash) at++;
    } else if (byte === openList || byte === openObject) {
      depth++;
      values++;
      if (depth > deepest) return `Lists and objects lie more than ${deepest} deep in each other.`;
    } else if (byte === closeList || byte === closeObject) {
      depth--;
    } else if (byte === comma) {
      values++;
    }
    if (values > mostValues) return `There are more than ${mostValues} values in it.`;
  }
  return null;
}
