import type { CrewKey } from "../../../../shared/contracts/access.ts";
import type { PhoneStore } from "./phoneStore.ts";

/** What was read of a crew's days, as it was answered last. */
export interface Kept<Value> {
  readonly key: string;
  readonly operationId: string;
  readonly crewId: string;
  readonly value: Value;
  readonly keptAtMs: number;
}

/** `what`: the list of days, or a date and what of it. */
export const keyOf = ({ crewId, operationId }: CrewKey, ...what: readonly string[]): string =>
  [operationId, crewId, ...what].join(" ");

export async function keep<Value>(
  store: PhoneStore,
  crew: CrewKey,
  key: string,
  value: Value,
  nowMs: number,
): Promise<void> {
  const kept: Kept<Value> = { key, operationId: crew.operationId, crewId: crew.crewId, value, keptAtMs: nowMs };
  await store.change(["kept"], (of) => of("kept").put(kept));
}

export const keptIn = <Value>(store: PhoneStore, key: string): Promise<Kept<Value> | undefined> =>
  store.read<Kept<Value>>("kept", key);

export const forget = (store: PhoneStore, key: string): Promise<void> =>
  store.change(["kept"], (of) => of("kept").delete(key));

/** All but what the crews may go on seeing: whoever signs in next must not find the day of somebody else. */
export async function forgetOthers(store: PhoneStore, crews: readonly CrewKey[]): Promise<void> {
  const isOf = (one: CrewKey) => crews.some((own) => own.operationId === one.operationId && own.crewId === one.crewId);
  const others = (await store.all<Kept<unknown>>("kept")).filter((kept) => !isOf(kept));
  if (others.length === 0) return;
  await store.change(["kept"], (of) => {
    for (const { key } of others) of("kept").delete(key);
  });
}
