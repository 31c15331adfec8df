import { expect, it } from "vitest";
import { dueWords } from "../../../../services/web/app/kit/dueWords.ts";

it.each([
  ["2027-06-16T18:30", "Wed 16 Jun 18:30"],
  ["2027-06-16T00:00", "end of Tue 15 Jun"],
  ["2028-03-01T00:00", "end of Tue 29 Feb"],
  ["2027-06-16T00:01", "Wed 16 Jun 00:01"],
])("%s is due: %s", (local, words) => {
  expect(dueWords(local)).toBe(words);
});
