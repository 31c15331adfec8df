import { type ReactNode, useDeferredValue, useId, useMemo, useState } from "react";
import { common } from "../strings/common.ts";
import { tableWords as words } from "../strings/tables.ts";
import { Empty } from "./states.tsx";
import {
  everything,
  type Filtered,
  filterValues,
  isNarrowed,
  rowsOfAPage,
  type SortValue,
  sortedNext,
  type TableChoice,
  tableView,
} from "./table/tableView.ts";
import { useIsPhone } from "./useIsPhone.ts";
import "./table/table.css";

export interface Column<Row> {
  readonly key: string;
  readonly title: string;
  readonly show: (row: Row) => ReactNode;
  /** By what the column is sorted; left out: it is not. */
  readonly by?: (row: Row) => SortValue;
  readonly isNumber?: boolean;
  /** Never broken over two lines where there is room for a table. */
  readonly isShort?: boolean;
}

export interface TableFilter<Row> extends Filtered<Row> {
  readonly title: string;
  /** Left out: the value itself. */
  readonly wordsOf?: (value: string) => string;
}

interface DataTableProps<Row> {
  /** Where search, filters and sorting are kept while another screen is looked at. */
  readonly name: string;
  readonly caption: string;
  readonly rows: readonly Row[];
  readonly keyOf: (row: Row) => string;
  /** The first column is what names a row. */
  readonly columns: readonly Column<Row>[];
  readonly filters?: readonly TableFilter<Row>[];
  /** All that can be found by words; left out: there is no search. */
  readonly textOf?: (row: Row) => string;
  /** Buttons and links at the end of a row. */
  readonly actions?: (row: Row) => ReactNode;
  /** Where there are no rows at all. */
  readonly whenEmpty?: ReactNode;
}

const kept = new Map<string, TableChoice>();
const noFilters: readonly [] = [];
const nothing = () => "";

/** A table of up to some thousands of rows: searched, filtered, sorted, a page at a time. On a phone every row is a card. Keep `rows`, `columns` and `filters` between drawings. */
export function DataTable<Row>({
  actions,
  caption,
  columns,
  filters = noFilters,
  keyOf,
  name,
  rows,
  textOf,
  whenEmpty = <Empty>{words.empty}</Empty>,
}: DataTableProps<Row>) {
  const [choice, setChoice] = useState<TableChoice>(() => kept.get(name) ?? everything);
  const choose = (change: Partial<TableChoice>) => {
    const next = { ...choice, page: 0, ...change };
    kept.set(name, next);
    setChoice(next);
  };
  const wanted = useDeferredValue(choice);
  const source = useMemo(
    () => ({
      rows,
      textOf: textOf ?? nothing,
      filters,
      sortValues: Object.fromEntries(columns.flatMap(({ key, by }) => (by ? [[key, by]] : []))),
    }),
    [rows, textOf, filters, columns],
  );
  const isPhone = useIsPhone();
  const rowsPerPage = isPhone ? rowsOfAPage.phone : rowsOfAPage.desk;
  const view = useMemo(() => tableView(source, wanted, rowsPerPage), [source, wanted, rowsPerPage]);
  const captionId = useId();
  if (rows.length === 0) return whenEmpty;
  const filterChoices = filters.map((filter) => (
    <FilterChoice
      key={filter.key}
      filter={filter}
      rows={rows}
      value={choice.wanted[filter.key]}
      onChoose={(value) => {
        const { [filter.key]: _, ...others } = choice.wanted;
        choose({ wanted: value === undefined ? others : { ...others, [filter.key]: value } });
      }}
    />
  ));
  const sortChoice = (
    <label>
      {words.sortBy}
      <select
        value={choice.sorted?.column ?? ""}
        onChange={({ target }) =>
          choose({ sorted: target.value === "" ? null : { column: target.value, isDown: false } })
        }
      >
        <option value="">{words.asStored}</option>
        {columns
          .filter(({ by }) => by !== undefined)
          .map(({ key, title }) => (
            <option key={key} value={key}>
              {title}
            </option>
          ))}
      </select>
    </label>
  );
  return (
    <section className="dataTable" aria-labelledby={captionId}>
      <div className="tableTop">
        {textOf && (
          <label>
            {common.search}
            <input type="search" value={choice.search} onChange={({ target }) => choose({ search: target.value })} />
          </label>
        )}
        {isPhone
          ? (filters.length > 0 || columns.some(({ by }) => by !== undefined)) && (
              <details className="phoneChoices" open={Object.keys(choice.wanted).length > 0 || undefined}>
                <summary>{filters.length > 0 ? words.filterAndSort : words.sort}</summary>
                <div>
                  {filterChoices}
                  {sortChoice}
                </div>
              </details>
            )
          : filterChoices}
        {isNarrowed(choice) && (
          <button type="button" onClick={() => choose({ search: "", wanted: {} })}>
            {words.clear}
          </button>
        )}
        <p className="quiet tableCount" role="status">
          {words.count(view.found, rows.length)}
        </p>
      </div>
      <table>
        <caption id={captionId} className="visuallyHidden">
          {caption}
        </caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <Head
                key={column.key}
                column={column}
                sorted={choice.sorted}
                onSort={() => choose({ sorted: sortedNext(choice.sorted, column.key) })}
              />
            ))}
            {actions && (
              <th scope="col">
                <span className="visuallyHidden">{words.actions}</span>
              </th>
            )}
          </tr>
        </thead>
        <tbody>
          {view.rows.map((row) => (
            <tr key={keyOf(row)}>
              {columns.map(({ isNumber, isShort, key, show, title }, at) =>
                at === 0 ? (
                  <th key={key} scope="row">
                    {show(row)}
                  </th>
                ) : (
                  <td key={key} data-title={title} className={isNumber ? "number" : isShort ? "short" : undefined}>
                    {show(row)}
                  </td>
                ),
              )}
              {actions && <td className="actions">{actions(row)}</td>}
            </tr>
          ))}
        </tbody>
      </table>
      {view.found === 0 && <Empty>{common.nothingFound}</Empty>}
      {view.pages > 1 && (
        <nav className="tablePages" aria-label={caption}>
          <button type="button" disabled={view.page === 0} onClick={() => choose({ page: view.page - 1 })}>
            {words.earlier}
          </button>
          <span>
            {words.stretch(
              view.page * rowsPerPage + 1,
              Math.min((view.page + 1) * rowsPerPage, view.found),
              view.found,
            )}
          </span>
          <button type="button" disabled={view.page + 1 >= view.pages} onClick={() => choose({ page: view.page + 1 })}>
            {words.later}
          </button>
        </nav>
      )}
    </section>
  );
}

function Head<Row>({
  column: { by, isNumber, key, title },
  onSort,
  sorted,
}: {
  readonly column: Column<Row>;
  readonly sorted: TableChoice["sorted"];
  readonly onSort: () => void;
}) {
  const isSorted = sorted?.column === key;
  const isDown = isSorted && sorted.isDown;
  return (
    <th
      scope="col"
      className={isNumber ? "number" : undefined}
      aria-sort={isSorted ? (isDown ? "descending" : "ascending") : undefined}
    >
      {by === undefined ? (
        title
      ) : (
        <>
          <button type="button" className="sort" onClick={onSort}>
            {title}
            <span aria-hidden="true">{isSorted ? (isDown ? " ▼" : " ▲") : ""}</span>
          </button>
          <span className="sortTitle">{title}</span>
        </>
      )}
    </th>
  );
}

function FilterChoice<Row>({
  filter,
  onChoose,
  rows,
  value,
}: {
  readonly filter: TableFilter<Row>;
  readonly rows: readonly Row[];
  readonly value: string | undefined;
  readonly onChoose: (value: string | undefined) => void;
}) {
  const values = useMemo(() => filterValues(rows, filter), [rows, filter]);
  const wordsOf = filter.wordsOf ?? ((one: string) => one || words.none);
  // The place in the list, since a value may be any text, an empty one too.
  const chosen = value === undefined ? "" : String(values.indexOf(value));
  return (
    <label>
      {filter.title}
      <select
        value={chosen}
        onChange={({ target }) => onChoose(target.value === "" ? undefined : values[Number(target.value)])}
      >
        <option value="">{words.all}</option>
        {values.map((one, at) => (
          <option key={one} value={at}>
            {wordsOf(one)}
          </option>
        ))}
      </select>
    </label>
  );
}
