import { expect, it } from "vitest";
import { readSettings } from "../../../services/cli/settings.ts";

it("threads of a worker are a whole number, or left to the machine", () => {
  const threadsOf = (text?: string) => {
    const read = readSettings(text === undefined ? {} : { CALMHOUR_THREADS: text });
    return read.ok ? read.settings.threads : read.message;
  };
  expect([threadsOf(), threadsOf(""), threadsOf("3")]).toEqual([null, null, 3]);
  for (const text of ["0", "-1", "1.5", "many"]) {
    expect(threadsOf(text)).toBe(`CALMHOUR_THREADS is ${text}; expected a whole number of at least 1`);
  }
});
