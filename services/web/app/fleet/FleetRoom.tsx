import type { Operation } from "../../../../shared/model/operation.ts";
import type { Column } from "../kit/DataTable.tsx";
import { Shown } from "../kit/states.tsx";
import { Tabs } from "../kit/Tabs.tsx";
import { ThingPage } from "../kit/thing/ThingPage.tsx";
import { type Row, ThingTable } from "../kit/thing/ThingTable.tsx";
import type { ThingName } from "../kit/thing/things.ts";
import { useDocument } from "../kit/thing/useDocument.ts";
import { WithOperation } from "../kit/WithOperation.tsx";
import { addressOf } from "../place.ts";
import type { RoomProps } from "../rooms.ts";
import { fleetWords as words } from "../strings/fleet.ts";
import { thingWords } from "../strings/things.ts";
import { outOfService } from "./outOfService.ts";
import { SettingsPage } from "./SettingsPage.tsx";

interface Part {
  readonly kind: ThingName;
  readonly members: readonly string[];
  readonly filters: readonly string[];
  readonly extra?: readonly Column<Row>[];
  readonly placeOfKey: (key: string) => string;
}

const part = (
  kind: ThingName,
  members: readonly string[],
  filters: readonly string[],
  extra?: Part["extra"],
): Part => ({
  kind,
  members,
  filters,
  ...(extra ? { extra } : {}),
  placeOfKey: (key) => addressOf("fleet", kind, key),
});

type Spans = readonly { readonly from: string; readonly to: string }[];
const service: Column<Row> = {
  key: "service",
  title: words.outNow,
  show: ({ members }) => (members.outOfService as Spans).map(({ from, to }) => words.out(from, to)).join("; "),
  by: ({ members }) => (members.outOfService as Spans)[0]?.from ?? null,
};
const counted = (name: string, title: string): Column<Row> => ({
  key: name,
  title,
  show: ({ members }) => String((members[name] as unknown[]).length),
  by: ({ members }) => (members[name] as unknown[]).length,
  isNumber: true,
});

/** In the order of the tabs. */
const parts: readonly Part[] = [
  part("aircraft", ["typeId", "baseId"], ["typeId", "baseId"], [service]),
  part(
    "aircraft-types",
    ["kind", "payloadKg", "windMaxKph", "gustMaxKph", "transportSlots", "runningCentsPerHour"],
    ["kind"],
  ),
  part("battery-stocks", ["sets"], []),
  part("chargers", ["baseId", "bays", "kw"], ["baseId"]),
  part("tenders", ["baseId", "waterL", "pumpLPerMin", "generatorKw", "transportSlots"], ["baseId"]),
  part(
    "crews",
    ["baseId", "maxAircraft", "dutyMaxHoursPerDay", "costCentsPerHour"],
    ["baseId"],
    [counted("people", words.people), counted("shifts", words.shifts)],
  ),
  part("bases", ["mainsKw", "fillLPerMin"], []),
  part("water-points", ["fillLPerMin"], []),
];
const settings = "settings";

/** `#fleet`, `#fleet/crews`, `#fleet/crews/CREW`, `#fleet/settings`. */
export default function FleetRoom({ session, within }: RoomProps) {
  const mayChange = session.roles.includes("dispatcher") && !session.readOnly;
  return (
    <WithOperation>
      {({ id }) => <Room key={id} operationId={id} within={within} mayChange={mayChange} />}
    </WithOperation>
  );
}

function Room({
  mayChange,
  operationId,
  within: [first, second],
}: {
  readonly operationId: string;
  readonly within: readonly string[];
  readonly mayChange: boolean;
}) {
  const asked = useDocument(operationId);
  const present = parts.find(({ kind }) => kind === first) ?? parts[0]!;
  const tabs = [
    ...parts.map(({ kind }) => ({ key: kind, title: thingWords[kind]!.many, address: addressOf("fleet", kind) })),
    { key: settings, title: words.settings, address: addressOf("fleet", settings) },
  ];
  return (
    <>
      <Tabs name={words.parts} parts={tabs} present={first === settings ? settings : present.kind} />
      {first !== settings && second === undefined && (
        <h1 className="visuallyHidden">{thingWords[present.kind]!.many}</h1>
      )}
      <Shown asked={asked}>
        {({ document }) => {
          const common = { operationId, operation: document, mayChange, onChanged: asked.again };
          if (first === settings) return <SettingsPage {...common} />;
          if (second !== undefined) {
            return (
              <ThingPage
                {...common}
                key={`${present.kind}/${second}`}
                kind={present.kind}
                thingKey={second}
                backTo={addressOf("fleet", present.kind)}
                placeOfKey={present.placeOfKey}
              />
            );
          }
          return (
            <>
              {present.kind === "aircraft" && <OutOfService operation={document} />}
              <ThingTable key={present.kind} {...present} operation={document} mayChange={mayChange} />
            </>
          );
        }}
      </Shown>
    </>
  );
}

function OutOfService({ operation }: { readonly operation: Operation }) {
  const out = outOfService(operation);
  return (
    <section>
      <p>{words.outSummary(out.length)}</p>
      {out.length > 0 && (
        <ul>
          {out.map(({ aircraftId, from, to }) => (
            <li key={`${aircraftId} ${from}`}>
              <a href={addressOf("fleet", "aircraft", aircraftId)}>{aircraftId}</a>: {words.out(from, to)}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
