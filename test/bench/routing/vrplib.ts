import { type Line, numbersIn, refuse } from "./textFile.ts";

export interface Row {
  readonly line: Line;
  readonly numbers: readonly number[];
}

interface Section {
  readonly heading: Line;
  readonly rows: Row[];
}

/** The headers and sections of a file in the VRPLIB dialect, with their places in it; what they mean is told elsewhere. */
export interface VrplibFile {
  readonly lastLine: Line;
  readonly headers: ReadonlyMap<string, { readonly line: Line; readonly value: string }>;
  readonly sections: ReadonlyMap<string, Section>;
}

const knownHeaders = new Set(
  "NAME COMMENT TYPE EDGE_WEIGHT_TYPE DIMENSION VEHICLES CAPACITY SERVICE_TIME VEHICLES_MAX_DURATION".split(" "),
);
const knownSections = new Set(
  [
    "NODE_COORD DEMAND SERVICE_TIME TIME_WINDOW RELEASE_TIME PRIZE DEPOT CAPACITY VEHICLES_DEPOT VEHICLES_RELOAD_DEPOT",
    "VEHICLES_ALLOWED_CLIENTS VEHICLES_FIXED_COST VEHICLES_UNIT_DISTANCE_COST VEHICLES_MAX_DURATION",
  ].flatMap((names) => names.split(" ")),
);

/** Anything unknown is refused: an instance of which a rule is left out would look easier than it is. */
export function parseVrplib(lines: readonly Line[]): VrplibFile {
  const headers = new Map<string, { line: Line; value: string }>();
  const sections = new Map<string, Section>();
  let section: Section | undefined;
  for (const line of lines) {
    const [, sectionName] = /^([A-Z_]+)_SECTION$/.exec(line.text) ?? [];
    const [, header, value] = /^([A-Z_]+)\s*:\s*(.*)$/.exec(line.text) ?? [];
    if (line.text === "EOF") break;
    if (sectionName !== undefined) {
      if (!knownSections.has(sectionName)) refuse(line, `the section ${sectionName} is unknown`);
      if (sections.has(sectionName)) refuse(line, `the section ${sectionName} comes twice`);
      section = { heading: line, rows: [] };
      sections.set(sectionName, section);
    } else if (header !== undefined) {
      if (!knownHeaders.has(header)) refuse(line, `the header ${header} is unknown`);
      headers.set(header, { line, value: value! });
    } else if (section !== undefined) {
      section.rows.push({ line, numbers: numbersIn(line) });
    } else {
      refuse(line, "a header or a section expected");
    }
  }
  return { lastLine: lines.at(-1)!, headers, sections };
}

export function headerOf(file: VrplibFile, name: string): { readonly line: Line; readonly value: string } {
  return file.headers.get(name) ?? refuse(file.lastLine, `no ${name} up to the end`);
}

export function countOf(file: VrplibFile, name: string): number {
  const { line, value } = headerOf(file, name);
  const count = Number(value);
  return Number.isInteger(count) && count > 0 ? count : refuse(line, `${name} is not a number of things: "${value}"`);
}

/** The rows of a section, numbered 1, 2, ... up to `count`; undefined when there is no such section. */
export function rowsOf(file: VrplibFile, name: string, count: number): Row[] | undefined {
  const section = file.sections.get(name);
  if (section === undefined) return undefined;
  section.rows.forEach(({ line, numbers }, index) => {
    if (numbers[0] !== index + 1) refuse(line, `${name}: row ${index + 1} expected, ${numbers[0]} found`);
  });
  if (section.rows.length === count) return section.rows;
  return refuse(section.heading, `${name} has ${section.rows.length} rows, ${count} expected`);
}

/** So many values of each row, behind its number. */
export function valuesOf(file: VrplibFile, name: string, count: number, width: number): number[][] | undefined {
  return rowsOf(file, name, count)?.map(({ line, numbers }) =>
    numbers.length === width + 1
      ? numbers.slice(1)
      : refuse(line, `${name}: ${width + 1} numbers expected, ${numbers.length} found`),
  );
}

/** One value per row from the section, or one for all from the header of the same name; undefined without either. */
export function columnOf(file: VrplibFile, name: string, count: number): number[] | undefined {
  const column = valuesOf(file, name, count, 1)?.map(([value]) => value!);
  const header = file.headers.get(name);
  if (column !== undefined || header === undefined) return column;
  const [value, ...rest] = numbersIn(header.line, header.value);
  if (value === undefined || rest.length > 0) refuse(header.line, `${name}: one number expected`);
  return Array(count).fill(value);
}
