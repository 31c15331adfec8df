/** What is wrong with a JSON text, and where: counted from 1, as editors do. */
export interface JsonFault {
  line: number;
  column: number;
  value: string;
  expected: string;
}

/** Our choice: deeper than any operation goes, shallow enough for the stack. */
const deepest = 100;

const stringToken = /"[ !#-[\]-\uffff]*(?:\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})[ !#-[\]-\uffff]*)*"/y;
const numberToken = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][-+]?\d+)?/y;
const wordToken = /true|false|null/y;
const space = /[ \t\n\r]*/y;
/** What a reader sees at a place: a text in quotes, a word, a number, or one sign. */
const shownToken = /(?<=")[^"\n]+(?=")|[\w.+-]+|./uy;

class Broken extends Error {
  readonly offset: number;
  readonly expected: string;
  constructor(offset: number, expected: string) {
    super(expected);
    this.offset = offset;
    this.expected = expected;
  }
}

/** Walks a JSON text (RFC 8259) for what JSON.parse doesn't tell: where it breaks, and which names occur twice. */
function walk(text: string, onRepeated: (offset: number, name: string) => void): void {
  let at = 0;

  function match(token: RegExp): string | undefined {
    token.lastIndex = at;
    const found = token.exec(text)?.[0];
    if (found !== undefined) at += found.length;
    return found;
  }
  function sign(wanted: string, expected: string): void {
    match(space);
    if (text[at] !== wanted) throw new Broken(at, expected);
    at += 1;
  }
  function next(): string | undefined {
    match(space);
    return text[at];
  }

  function object(depth: number): void {
    const names = new Set<string>();
    sign("{", '"{"');
    if (next() === "}") {
      at += 1;
      return;
    }
    for (;;) {
      next();
      const start = at;
      const name = match(stringToken);
      if (name === undefined) throw new Broken(at, "a property name in double quotes");
      if (names.has(name)) onRepeated(start, name);
      names.add(name);
      sign(":", '":" after the property name');
      value(depth);
      if (next() === "}") break;
      sign(",", '"," or "}"');
    }
    at += 1;
  }

  function array(depth: number): void {
    sign("[", '"["');
    if (next() === "]") {
      at += 1;
      return;
    }
    for (;;) {
      value(depth);
      if (next() === "]") break;
      sign(",", '"," or "]"');
    }
    at += 1;
  }

  function value(depth: number): void {
    const first = next();
    if (depth > deepest) throw new Broken(at, `lists and objects no more than ${deepest} deep`);
    if (first === "{") object(depth + 1);
    else if (first === "[") array(depth + 1);
    else if ((match(stringToken) ?? match(numberToken) ?? match(wordToken)) === undefined) {
      throw new Broken(
        at,
        first === '"' ? "text that ends with a double quote and has no line break in it" : "a value",
      );
    }
  }

  value(0);
  if (next() !== undefined) throw new Broken(at, "the end of the file");
}

function faultAt(text: string, offset: number, expected: string): JsonFault {
  const before = text.slice(0, offset);
  shownToken.lastIndex = text[offset] === '"' ? offset + 1 : offset;
  return {
    line: before.split("\n").length,
    column: offset - before.lastIndexOf("\n"),
    value: offset >= text.length ? "the end of the file" : (shownToken.exec(text)?.[0] ?? text[offset]!),
    expected,
  };
}

export type JsonOutcome = { ok: true; value: unknown } | { ok: false; faults: JsonFault[] };

export function parseJson(text: string): JsonOutcome {
  const faults: JsonFault[] = [];
  try {
    walk(text, (offset, name) =>
      faults.push({ ...faultAt(text, offset, "a property once in an object"), value: name.slice(1, -1) }),
    );
  } catch (error) {
    if (!(error instanceof Broken)) throw error;
    faults.push(faultAt(text, error.offset, error.expected));
  }
  return faults.length > 0 ? { ok: false, faults } : { ok: true, value: JSON.parse(text) as unknown };
}
