// Loaded before everything else: shows the clock of the wall by so many milliseconds off as a file says, also while the process runs.
import { readFileSync } from "node:fs";

const { CLOCK_FILE: file } = process.env;
let offsetMs = 0;
const look = () => {
  try {
    offsetMs = Number(readFileSync(file, "utf8"));
  } catch {
    // Not written yet.
  }
};
look();
setInterval(look, 100).unref();
const RealDate = Date;
globalThis.Date = class ShiftedDate extends RealDate {
  constructor(...args) {
    if (args.length === 0) super(RealDate.now() + offsetMs);
    else super(...args);
  }
  static now() {
    return RealDate.now() + offsetMs;
  }
};
