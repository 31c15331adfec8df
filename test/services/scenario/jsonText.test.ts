import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseJson } from "../../../services/scenario/jsonText.ts";

/** JSON.parse of the engine is the judge of what is JSON. */
function engineTakes(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

describe("JSON text", () => {
  it("gives what JSON.parse gives", () => {
    fc.assert(
      fc.property(fc.json({ stringUnit: "binary" }), fc.constantFrom(0, 2), (text, indent) => {
        const value = JSON.parse(text) as unknown;
        expect(parseJson(JSON.stringify(value, null, indent))).toEqual({ ok: true, value });
      }),
    );
  });

  it("is refused exactly when JSON.parse refuses it", () => {
    const pieces = fc.constantFrom(
      ...'{}[],:"\\0123.eE+- \n\tatu'.split(""),
      "true",
      "false",
      "null",
      '"a"',
      '"b":',
      "\u0001",
      "\u007f",
      "\u2028",
    );
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 12 }), (drawn) => {
        const text = drawn.join("");
        const outcome = parseJson(text);
        const onlyRepeats = !outcome.ok && outcome.faults.every(({ expected }) => expected.includes("once"));
        expect(outcome.ok || onlyRepeats).toBe(engineTakes(text));
      }),
      { numRuns: 20_000 },
    );
  });

  it("is placed by line and column, counted from 1", () => {
    const text = '{\n  "a": 1,\n  "b": [1, 2,, 3]\n}';
    expect(parseJson(text)).toEqual({ ok: false, faults: [{ line: 3, column: 14, value: ",", expected: "a value" }] });
  });

  it("may not be nested without end", () => {
    expect(parseJson("[".repeat(200_000))).toMatchObject({ ok: false, faults: [{ column: 102 }] });
  });

  it("takes long texts", () => {
    const value = "x\\".repeat(2_000_000);
    expect(parseJson(JSON.stringify(value))).toEqual({ ok: true, value });
  });
});
