import { IANAZone } from "luxon";
import { localDateSchema, localDateTimeSchema } from "../../../shared/model/quantities.ts";
import { BadInput } from "../output.ts";

/** What a decimal number looks like: Number() would also take "", "0x1f" and "Infinity". */
const decimal = /^[+-]?(\d+\.?\d*|\.\d+)$/;

/** A number of an option, or bad input that names it. */
export function figure(name: string, least: number, most: number): (text: string) => number {
  return (text) => {
    const value = decimal.test(text) ? Number(text) : Number.NaN;
    if (value >= least && value <= most) return value;
    throw new BadInput([`${name}: ${text}; expected a number from ${least} to ${most}`]);
  };
}

/** The numbers of an option that is given once or more often. */
export function figures(name: string, most: number): (text: string, before?: readonly number[]) => readonly number[] {
  const read = figure(name, 0, most);
  return (text, before) => [...(before ?? []), read(text)];
}

export function dateOf(name: string): (text: string) => string {
  return (text) => {
    if (localDateSchema.safeParse(text).success) return text;
    throw new BadInput([`${name}: ${text}; expected a date that exists, as 2027-06-21`]);
  };
}

export function clockTime(name: string): (text: string) => string {
  return (text) => {
    if (localDateTimeSchema.safeParse(text).success) return text;
    throw new BadInput([`${name}: ${text}; expected a local date and time that exist, as 2027-06-08T18:00`]);
  };
}

export function zoneOf(name: string): (text: string) => string {
  return (text) => {
    if (IANAZone.isValidZone(text)) return text;
    throw new BadInput([`${name}: ${text}; expected the name of an IANA time zone, as Europe/Madrid`]);
  };
}

/** A whole number of things of an option, or bad input that names it. */
export function countOf(name: string, most: number): (text: string) => number {
  const read = figure(name, 1, most);
  return (text) => {
    const value = read(text);
    if (Number.isInteger(value)) return value;
    throw new BadInput([`${name}: ${text}; expected a whole number from 1 to ${most}`]);
  };
}
