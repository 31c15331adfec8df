/** Words of tables, whatever they hold. */
export const tableWords = {
  filterAndSort: "Filter and sort",
  sort: "Sort",
  all: "All",
  none: "(none)",
  clear: "Show all again",
  empty: "There is nothing here yet.",
  sortBy: "Sort by",
  asStored: "As stored",
  actions: "What can be done",
  count: (shown: number, all: number) => (shown === all ? `${all} in all` : `${shown} of ${all}`),
  stretch: (from: number, to: number, of: number) => `Rows ${from} to ${to} of ${of}`,
  earlier: "Rows before",
  later: "Rows after",
} as const;
