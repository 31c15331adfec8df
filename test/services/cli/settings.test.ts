import { expect, it } from "vitest";
import { readSettings } from "../../../services/cli/settings.ts";

it("the time that a worker lets go on what runs is in seconds, eight unless told otherwise, and may be nothing", () => {
  const secondsOf = (text?: string) => {
    const read = readSettings(text === undefined ? {} : { CALMHOUR_DRAIN_SECONDS: text });
    return read.ok ? read.settings.drainSeconds : read.message;
  };
  expect([secondsOf(), secondsOf(""), secondsOf("0"), secondsOf("55.5")]).toEqual([8, 8, 0, 55.5]);
  for (const text of ["-1", "long", "100000"]) {
    expect(secondsOf(text)).toBe(`CALMHOUR_DRAIN_SECONDS is ${text}; expected seconds from 0 to 86400`);
  }
});

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
