import { useMemo } from "react";
import { labelOf } from "../../../../../shared/model/memberWords.ts";
import type { Operation } from "../../../../../shared/model/operation.ts";
import { formWords } from "../../strings/forms.ts";
import { thingWords } from "../../strings/things.ts";
import { type Column, DataTable, type TableFilter } from "../DataTable.tsx";
import { kindOf, leavesOf, type Shape } from "../form/shape.ts";
import { Shown } from "../states.tsx";
import { newKey, useFacts } from "./ThingPage.tsx";
import { entriesOf, keyOf, type ThingName } from "./things.ts";
import { titlesOf } from "./titles.ts";
import { useShapes } from "./useDocument.ts";
import { valueWords } from "./words.ts";

export interface ThingTableProps {
  readonly kind: ThingName;
  readonly operation: Operation;
  /** Those that the table shows, after what it is called. */
  readonly members: readonly string[];
  /** Of them, those by which it can be filtered. */
  readonly filters?: readonly string[];
  readonly mayChange: boolean;
  readonly placeOfKey: (key: string) => string;
  readonly extra?: readonly Column<Row>[];
}

export interface Row {
  readonly key: string;
  readonly title: string;
  readonly entry: unknown;
  /** The members of the entry; of a feature its properties. */
  readonly members: Readonly<Record<string, unknown>>;
  readonly text: string;
}

const noNames: readonly string[] = [];
const noColumns: readonly Column<Row>[] = [];
const keyOfRow = ({ key }: Row) => key;
const textOfRow = ({ text }: Row) => text;

const titleColumn = (one: string) => one.charAt(0).toUpperCase() + one.slice(1);

/** All things of a kind, by chosen members of their shape. */
export function ThingTable(props: ThingTableProps) {
  const shapes = useShapes();
  return <Shown asked={shapes}>{(known) => <Table {...props} shape={known[props.kind]!} />}</Shown>;
}

function Table({
  extra = noColumns,
  filters = noNames,
  kind,
  mayChange,
  members,
  operation,
  placeOfKey,
  shape: whole,
}: ThingTableProps & { readonly shape: Shape }) {
  const facts = useFacts(operation);
  const { many, one } = thingWords[kind]!;
  const isFeature = kind === "fields" || kind === "sensitive-places";
  const shape = isFeature ? whole.properties!.properties! : whole;
  const rows = useMemo(() => {
    const titles = titlesOf(kind, operation);
    return entriesOf(kind, operation).map((entry): Row => {
      const inner = (isFeature ? (entry as { properties: object }).properties : entry) as Row["members"];
      const words = members.map((name) => valueWords(name, shape.properties![name]!, inner[name], facts, [inner]));
      const leaves = leavesOf(inner).map(({ value }) => String(value));
      const key = keyOf(kind, entry);
      return { key, title: titles.get(key)!, entry, members: inner, text: [...words, ...leaves].join(" ") };
    });
  }, [kind, operation, isFeature, members, shape, facts]);
  const columns = useMemo((): readonly Column<Row>[] => {
    const ofMembers = members.map((name): Column<Row> => {
      const inner = shape.properties![name]!;
      const wordsOf = (row: Row) => valueWords(name, inner, row.members[name], facts, [row.members]);
      const memberKind = kindOf(name, inner);
      const isNumber = memberKind === "number";
      const isRaw = isNumber || memberKind === "date" || memberKind === "dateTime";
      return {
        key: name,
        title: labelOf(name),
        show: wordsOf,
        isNumber,
        isShort: isRaw,
        by: (row) => (isRaw ? ((row.members[name] as number | string | undefined) ?? null) : wordsOf(row) || null),
      };
    });
    const first: Column<Row> = {
      key: "key",
      title: titleColumn(one),
      show: ({ key, title }) => <a href={placeOfKey(key)}>{title}</a>,
      by: ({ title }) => title,
    };
    return [first, ...ofMembers, ...extra];
  }, [members, shape, facts, one, placeOfKey, extra]);
  const tableFilters = useMemo(
    () =>
      filters.map((name): TableFilter<Row> => {
        const wordsOf = (row: Row) =>
          valueWords(name, shape.properties![name]!, row.members[name], facts, [row.members]);
        return { key: name, title: labelOf(name), valuesOf: (row) => [wordsOf(row)] };
      }),
    [filters, shape, facts],
  );
  return (
    <>
      <h1 className="visuallyHidden">{many}</h1>
      {mayChange && (
        <p className="buttons">
          <a className="button" href={placeOfKey(newKey)}>
            {formWords.add(one)}
          </a>
        </p>
      )}
      <DataTable
        name={kind}
        caption={many}
        rows={rows}
        keyOf={keyOfRow}
        textOf={textOfRow}
        columns={columns}
        filters={tableFilters}
      />
    </>
  );
}
