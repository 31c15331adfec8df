import type { Shape } from "./shape.ts";

/** The unit stands at the label, in the one that people have chosen. */
const unitBehind =
  /,? (in )?(cents per [a-z ]+|cents|L\/ha|L\/min|km\/h|m\/s|mm|m|µm|kW|hours|percent|minutes|L or kg.*|L or kg, per hectare)$/;
const exampleBehind = /,? ?(local time|an? [-a-z ]+ in the operation's time zone,?) as \d.*$/;
/** What is said of files, of what is left out, or by names that nobody sees on a screen. */
const notForScreens = /in a table|left (empty|out)|^likewise|[a-z][A-Z]|^ISO |^IANA /;

/** The model's own words for a member, as far as they help somebody who fills in a form. */
export function hintOf({ description = "" }: Shape): string | null {
  const parts = description
    .split("; ")
    .filter((part) => !notForScreens.test(part))
    .map((part) => part.replace(exampleBehind, "").replace(unitBehind, ""));
  const hint = parts.filter(Boolean).join("; ");
  return hint === "" ? null : hint;
}
