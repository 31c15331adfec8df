import { describe, expect, it } from "vitest";
import {
  everything,
  filterValues,
  rowsOfAPage,
  sortedNext,
  tableView,
} from "../../../../services/web/app/kit/table/tableView.ts";

interface Row {
  readonly id: string;
  readonly grower: string;
  readonly areaHa: number | null;
  readonly products: readonly string[];
}
const rows: readonly Row[] = [
  { id: "O-10", grower: "Müller", areaHa: 12, products: ["urea"] },
  { id: "O-2", grower: "Søndergård", areaHa: null, products: ["urea", "sulfur"] },
  { id: "O-1", grower: "Muller East", areaHa: 7.5, products: [] },
];
const byProduct = { key: "product", valuesOf: ({ products }: Row) => products };
const source = {
  rows,
  textOf: ({ grower, id, products }: Row) => [id, grower, ...products].join(" "),
  filters: [byProduct],
  sortValues: { id: ({ id }: Row) => id, areaHa: ({ areaHa }: Row) => areaHa },
};
const idsOf = (choice: Partial<typeof everything>) =>
  tableView(source, { ...everything, ...choice }, rowsOfAPage.desk).rows.map(({ id }) => id);

describe("a table", () => {
  it("finds rows that have every word in them, accents and case aside", () => {
    expect(idsOf({ search: "muller" })).toEqual(["O-10", "O-1"]);
    expect(idsOf({ search: " MULLER  urea" })).toEqual(["O-10"]);
    expect(idsOf({ search: "barley" })).toEqual([]);
  });

  it("is filtered by values of which a row may have several", () => {
    expect(idsOf({ wanted: { product: "urea" } })).toEqual(["O-10", "O-2"]);
    expect(idsOf({ wanted: { product: "sulfur" }, search: "muller" })).toEqual([]);
    expect(filterValues(rows, byProduct)).toEqual(["sulfur", "urea"]);
  });

  it("is sorted as people count, with what is empty last both ways", () => {
    expect(idsOf({ sorted: { column: "id", isDown: false } })).toEqual(["O-1", "O-2", "O-10"]);
    expect(idsOf({ sorted: { column: "areaHa", isDown: false } })).toEqual(["O-1", "O-10", "O-2"]);
    expect(idsOf({ sorted: { column: "areaHa", isDown: true } })).toEqual(["O-10", "O-1", "O-2"]);
    const up = sortedNext(null, "id");
    const down = sortedNext(up, "id");
    expect([up, down, sortedNext(down, "id"), sortedNext(down, "areaHa")]).toEqual([
      { column: "id", isDown: false },
      { column: "id", isDown: true },
      null,
      { column: "areaHa", isDown: false },
    ]);
  });

  it("is shown a page at a time, every row on one page, and never a page that is not there", () => {
    const many = Array.from({ length: 2 * rowsOfAPage.desk + 1 }, (_, at) => ({ ...rows[0]!, id: `O-${at}` }));
    const pageOf = (page: number) => tableView({ ...source, rows: many }, { ...everything, page }, rowsOfAPage.desk);
    const shown = [0, 1, 2].flatMap((page) => pageOf(page).rows.map(({ id }) => id));
    expect(shown).toEqual(many.map(({ id }) => id));
    expect(pageOf(7)).toMatchObject({ page: 2, pages: 3, found: many.length });
  });
});
