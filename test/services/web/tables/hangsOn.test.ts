import { describe, expect, it } from "vitest";
import { hangsOn } from "../../../../services/web/app/kit/form/hangsOn.ts";
import { entriesOf, keyOf, type ThingName, thingKinds } from "../../../../services/web/app/kit/thing/things.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { validateOperation } from "../../../../shared/model/validate.ts";
import { richOperation } from "../../../support/richOperation.ts";

/** The document without one entry of a list; nothing of the given one is changed. */
function without(operation: Operation, kind: ThingName, key: string): unknown {
  const copy = structuredClone(operation);
  const path: readonly string[] = thingKinds[kind].path;
  const list = path.reduce<unknown>((at, step) => (at as Record<string, unknown>)[step], copy) as unknown[];
  list.splice(
    list.findIndex((entry) => keyOf(kind, entry) === key),
    1,
  );
  return copy;
}

describe("what depends on a thing", () => {
  it("is told wherever the model would refuse to lose it", () => {
    const operation = richOperation();
    let refused = 0;
    let free = 0;
    for (const kind of Object.keys(thingKinds) as ThingName[]) {
      for (const entry of entriesOf(kind, operation)) {
        const key = keyOf(kind, entry);
        const judged = validateOperation(without(operation, kind, key));
        const isNamed = !judged.ok && judged.faults.some(({ value }) => value === key);
        if (isNamed) {
          refused++;
          expect([kind, key, hangsOn(operation, kind, key).length > 0]).toEqual([kind, key, true]);
        } else free++;
      }
    }
    expect(refused).toBeGreaterThan(5);
    expect(free).toBeGreaterThan(5);
  });

  it("is named kind by kind", () => {
    const operation = richOperation();
    const { fieldId } = operation.orders[0]!;
    const ofField = hangsOn(operation, "fields", fieldId);
    const expected = operation.orders.filter((order) => order.fieldId === fieldId).map(({ id }) => id);
    expect(ofField.find(({ kind }) => kind === "orders")?.keys).toEqual(expected);
    expect(hangsOn(operation, "fields", "nowhere")).toEqual([]);
  });
});
