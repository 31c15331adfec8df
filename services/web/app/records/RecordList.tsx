import { useCallback, useMemo, useState } from "react";
import type { ApplicationRecord } from "../../../../shared/contracts/applicationRecords.ts";
import { get, pathOf } from "../api/call.ts";
import { type Column, DataTable, type TableFilter } from "../kit/DataTable.tsx";
import { shortDayWordsWithYear } from "../kit/dates.ts";
import { Empty, Shown } from "../kit/states.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { addressOf } from "../place.ts";
import { recordWords as words } from "../strings/records.ts";
import { useUnits } from "../units/units.ts";

const perPage = 500;
/** Our choice: a season of one contractor; what is more is asked for with dates. */
const pagesMost = 10;

interface Page {
  readonly applicationRecords: ApplicationRecord[];
  readonly next: string | null;
}
interface Stretch {
  readonly from: string;
  readonly to: string;
}

const queryOf = ({ from, to }: Stretch) =>
  new URLSearchParams({ ...(from === "" ? {} : { from }), ...(to === "" ? {} : { to }) });

async function fetchRecords(operationId: string, stretch: Stretch, signal: AbortSignal): Promise<ApplicationRecord[]> {
  const path = pathOf`/api/operations/${operationId}/application-records`;
  const records: ApplicationRecord[] = [];
  let cursor: string | null = null;
  for (let page = 0; page < pagesMost; page++) {
    const query = queryOf(stretch);
    query.set("limit", String(perPage));
    if (cursor !== null) query.set("cursor", cursor);
    const got: Page = await get<Page>(`${path}?${query}`, signal);
    records.push(...got.applicationRecords);
    cursor = got.next;
    if (cursor === null) break;
  }
  return records;
}

const keyOf = ({ id }: ApplicationRecord) => id;
const textOf = ({ record }: ApplicationRecord) =>
  [record.fieldName, record.grower, record.orderId, record.crewName, ...record.products.map(({ name }) => name)].join(
    " ",
  );
const filters: readonly TableFilter<ApplicationRecord>[] = [
  { key: "crew", title: words.crew, valuesOf: ({ record }) => [record.crewName] },
  {
    key: "complete",
    title: words.completeness,
    valuesOf: ({ complete }) => [complete ? words.whole : words.lacking],
  },
  {
    key: "state",
    title: words.state,
    valuesOf: ({ record }) => [record.state],
    wordsOf: (state) => words.states[state as keyof typeof words.states],
  },
];

/** Records by date and crew, with what is missing. */
export function RecordList({ operationId }: { readonly operationId: string }) {
  const [stretch, setStretch] = useState<Stretch>({ from: "", to: "" });
  const units = useUnits();
  const asked = useAsked(
    useCallback((signal: AbortSignal) => fetchRecords(operationId, stretch, signal), [operationId, stretch]),
  );
  const columns = useMemo<readonly Column<ApplicationRecord>[]>(
    () => [
      {
        key: "field",
        title: words.field,
        show: ({ id, record }) => <a href={addressOf("records", record.crewId, id)}>{record.fieldName}</a>,
        by: ({ record }) => record.fieldName,
      },
      {
        key: "date",
        title: words.date,
        show: ({ record }) => shortDayWordsWithYear(record.date),
        by: ({ record }) => record.date,
      },
      { key: "crew", title: words.crew, show: ({ record }) => record.crewName, by: ({ record }) => record.crewName },
      { key: "order", title: words.order, show: ({ record }) => record.orderId, by: ({ record }) => record.orderId },
      {
        key: "products",
        title: words.products,
        show: ({ record }) => record.products.map(({ name }) => name).join("; "),
      },
      {
        key: "treated",
        title: words.treated,
        isNumber: true,
        show: ({ record }) => units.areaHa(record.treatedHa),
        by: ({ record }) => record.treatedHa,
      },
      {
        key: "state",
        title: words.state,
        show: ({ record }) => words.states[record.state],
        by: ({ record }) => record.state,
      },
      {
        key: "missing",
        title: words.completeness,
        show: ({ complete, missing }) => (complete ? words.complete : words.missing(missing.length)),
        by: ({ missing }) => missing.length,
      },
    ],
    [units],
  );
  return (
    <>
      <h1>{words.title}</h1>
      <p className="quiet">{words.text}</p>
      <div className="recordStretch">
        <label>
          {words.from}
          <input
            type="date"
            value={stretch.from}
            onChange={({ target }) => setStretch({ ...stretch, from: target.value })}
          />
        </label>
        <label>
          {words.to}
          <input
            type="date"
            value={stretch.to}
            onChange={({ target }) => setStretch({ ...stretch, to: target.value })}
          />
        </label>
        <a href={`${pathOf`/api/operations/${operationId}/application-records.csv`}?${queryOf(stretch)}`} download>
          {words.csv}
        </a>
      </div>
      <Shown asked={asked}>
        {(records) => (
          <DataTable
            name="records"
            caption={words.caption}
            rows={records}
            keyOf={keyOf}
            columns={columns}
            filters={filters}
            textOf={textOf}
            whenEmpty={<Empty>{words.empty}</Empty>}
          />
        )}
      </Shown>
    </>
  );
}
