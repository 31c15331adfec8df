import type { OperationSummary } from "../../../../shared/contracts/operations.ts";
import { TakeInFiles } from "../kit/files/TakeInFiles.tsx";
import { Empty, Shown } from "../kit/states.tsx";
import { Tabs } from "../kit/Tabs.tsx";
import { ThingPage } from "../kit/thing/ThingPage.tsx";
import { ThingTable } from "../kit/thing/ThingTable.tsx";
import { useDocument } from "../kit/thing/useDocument.ts";
import { keepOperation } from "../kit/useOperation.tsx";
import { WithOperation } from "../kit/WithOperation.tsx";
import { addressOf, go } from "../place.ts";
import type { RoomProps } from "../rooms.ts";
import { orderWords as words } from "../strings/orders.ts";
import { thingWords } from "../strings/things.ts";
import { FieldStory } from "./FieldStory.tsx";
import { FieldsTable } from "./FieldsTable.tsx";
import { OrderStory } from "./OrderStory.tsx";
import { OrdersTable } from "./OrdersTable.tsx";
import { useShownWeek } from "./useShownWeek.ts";
import "./orders.css";

const lists = ["fields", "products", "sensitive-places"] as const;
type ListName = (typeof lists)[number];
const listNamed = (name: string | undefined): ListName | undefined => lists.find((one) => one === name);
const takeIn = "files";

const productMembers = ["method", "active", "registrationNumber", "licenceClass", "reiHours", "windMaxKph"];
const productFilters = ["method", "licenceClass"];
const placeMembers = ["kind", "radiusM"];
const placeFilters = ["kind"];
const placeIn = (list: ListName) => (key: string) => addressOf("orders", list, key);
const placesIn = {
  fields: placeIn("fields"),
  products: placeIn("products"),
  "sensitive-places": placeIn("sensitive-places"),
};
const placeOfOrder = (key: string) => addressOf("orders", key);

/** `#orders`, `#orders/ORDER`, `#orders/fields/FIELD`, `#orders/products/PRODUCT`, `#orders/sensitive-places/PLACE`, `#orders/files`. */
export default function OrdersRoom({ session, within }: RoomProps) {
  const mayChange = session.roles.includes("dispatcher") && !session.readOnly;
  return (
    <WithOperation whenNone={(again) => <FirstOperation mayChange={mayChange} onTaken={again} />}>
      {(operation, again) => (
        <Room key={operation.id} operation={operation} within={within} mayChange={mayChange} onTaken={again} />
      )}
    </WithOperation>
  );
}

function FirstOperation({ mayChange, onTaken }: { readonly mayChange: boolean; readonly onTaken: () => void }) {
  if (!mayChange) return <Empty>{words.firstAlone}</Empty>;
  return (
    <section className="firstOperation">
      <h1>{words.firstTitle}</h1>
      <p>{words.takeInText}</p>
      <TakeInFiles
        operationId={null}
        onTaken={({ id }) => {
          keepOperation(id);
          onTaken();
        }}
      />
    </section>
  );
}

interface Inside {
  readonly operation: OperationSummary;
  readonly within: RoomProps["within"];
  readonly mayChange: boolean;
  /** There is another version, or another operation. */
  readonly onTaken: () => void;
}

function Room({ mayChange, onTaken, operation: { id }, within: [first, second] }: Inside) {
  const asked = useDocument(id);
  const shown = useShownWeek(id);
  const list = listNamed(first);
  const present = first === takeIn ? takeIn : (list ?? "orders");
  const parts = [
    { key: "orders", title: words.orders, address: addressOf("orders") },
    ...lists.map((name) => ({ key: name, title: thingWords[name]!.many, address: addressOf("orders", name) })),
    ...(mayChange ? [{ key: takeIn, title: words.takeIn, address: addressOf("orders", takeIn) }] : []),
  ];
  return (
    <>
      <Tabs name={words.parts} parts={parts} present={present} />
      {(first === undefined || (list !== undefined && second === undefined)) && (
        <h1 className="visuallyHidden">{parts.find(({ key }) => key === present)!.title}</h1>
      )}
      {first === takeIn && mayChange ? (
        <section>
          <h1>{words.takeInTitle}</h1>
          <p className="readable">{words.takeInText}</p>
          <TakeInFiles
            operationId={id}
            onTaken={(taken) => {
              keepOperation(taken.id);
              onTaken();
              asked.again();
              shown.again();
              go(addressOf("orders"));
            }}
          />
        </section>
      ) : (
        <Shown asked={asked}>
          {({ document }) => {
            const common = { operationId: id, operation: document, mayChange, onChanged: asked.again };
            if (list !== undefined && second !== undefined) {
              return (
                <ThingPage
                  {...common}
                  key={`${list}/${second}`}
                  kind={list}
                  thingKey={second}
                  backTo={addressOf("orders", list)}
                  placeOfKey={placesIn[list]}
                >
                  {list === "fields" && <FieldStory operation={document} fieldId={second} />}
                </ThingPage>
              );
            }
            if (list === "fields") return <FieldsTable operation={document} mayChange={mayChange} />;
            if (list !== undefined) {
              return (
                <ThingTable
                  kind={list}
                  operation={document}
                  mayChange={mayChange}
                  members={list === "products" ? productMembers : placeMembers}
                  filters={list === "products" ? productFilters : placeFilters}
                  placeOfKey={placesIn[list]}
                />
              );
            }
            if (first === undefined) {
              return <OrdersTable operation={document} shown={shown.value} mayChange={mayChange} />;
            }
            return (
              <ThingPage
                {...common}
                key={first}
                kind="orders"
                thingKey={first}
                backTo={addressOf("orders")}
                placeOfKey={placeOfOrder}
              >
                <OrderStory operation={document} orderId={first} shown={shown.value} />
              </ThingPage>
            );
          }}
        </Shown>
      )}
    </>
  );
}
