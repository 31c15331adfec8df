/** How a table may be read by one column: empty values come last, whichever way it is sorted. */
export type SortValue = string | number | null;

export interface SortedBy {
  readonly column: string;
  readonly isDown: boolean;
}

export interface Filtered<Row> {
  readonly key: string;
  /** A row may stand under several: an order has several products. */
  readonly valuesOf: (row: Row) => readonly string[];
}

export interface TableChoice {
  readonly search: string;
  /** By the filter's key; what is not here is not filtered by. */
  readonly wanted: Readonly<Record<string, string>>;
  readonly sorted: SortedBy | null;
  /** From 0. */
  readonly page: number;
}

export const everything: TableChoice = { search: "", wanted: {}, sorted: null, page: 0 };
export const isNarrowed = ({ search, wanted }: TableChoice) => search.trim() !== "" || Object.keys(wanted).length > 0;

/** Our choice: what a tired eye goes through before it searches, and a thumb before it turns the page. */
export const rowsOfAPage = { desk: 50, phone: 12 } as const;

interface TableSource<Row> {
  readonly rows: readonly Row[];
  /** All that can be found by words. */
  readonly textOf: (row: Row) => string;
  readonly filters: readonly Filtered<Row>[];
  /** By the column's key. */
  readonly sortValues: Readonly<Record<string, (row: Row) => SortValue>>;
}

export interface TableView<Row> {
  /** Of the page that is shown. */
  readonly rows: readonly Row[];
  readonly found: number;
  readonly page: number;
  readonly pages: number;
}

/** Without accents and case, so that "muller" finds "Müller". */
export const folded = (text: string): string => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();

/** What is left of the rows, in the order wanted; every word that is sought has to be in a row. */
export function tableView<Row>(
  source: TableSource<Row>,
  { page, search, sorted, wanted }: TableChoice,
  rowsPerPage: number,
): TableView<Row> {
  const words = folded(search).split(/\s+/).filter(Boolean);
  const filters = source.filters.filter(({ key }) => wanted[key] !== undefined);
  const found = source.rows.filter((row) => {
    if (!filters.every(({ key, valuesOf }) => valuesOf(row).includes(wanted[key]!))) return false;
    if (words.length === 0) return true;
    const text = folded(source.textOf(row));
    return words.every((word) => text.includes(word));
  });
  const sortOf = sorted === null ? undefined : source.sortValues[sorted.column];
  const ordered = sorted !== null && sortOf !== undefined ? inOrder(found, sortOf, sorted.isDown) : found;
  const pages = Math.max(1, Math.ceil(ordered.length / rowsPerPage));
  const shownPage = Math.min(page, pages - 1);
  return {
    rows: ordered.slice(shownPage * rowsPerPage, (shownPage + 1) * rowsPerPage),
    found: ordered.length,
    page: shownPage,
    pages,
  };
}

/** O-2 before O-10. */
const { compare } = new Intl.Collator("en", { numeric: true });

function inOrder<Row>(rows: readonly Row[], sortOf: (row: Row) => SortValue, isDown: boolean): readonly Row[] {
  const valued = rows.map((row) => ({ row, value: sortOf(row) }));
  valued.sort((a, b) => {
    if (a.value === null || b.value === null) return Number(a.value === null) - Number(b.value === null);
    const difference =
      typeof a.value === "number" && typeof b.value === "number"
        ? a.value - b.value
        : compare(String(a.value), String(b.value));
    return isDown ? -difference : difference;
  });
  return valued.map(({ row }) => row);
}

/** What a filter can be set to, in the order of people. */
export function filterValues<Row>(rows: readonly Row[], { valuesOf }: Filtered<Row>): readonly string[] {
  return [...new Set(rows.flatMap(valuesOf))].sort(compare);
}

/** A click on a column's head: up, then down, then as it was. */
export function sortedNext(sorted: SortedBy | null, column: string): SortedBy | null {
  if (sorted?.column !== column) return { column, isDown: false };
  return sorted.isDown ? null : { column, isDown: true };
}
