import type { CrewsToLead, Person } from "../../../../shared/contracts/people.ts";
import { peopleWords as words } from "../strings/people.ts";

export function personState({ active, hasPassword }: Pick<Person, "active" | "hasPassword">) {
  if (!active) return "out";
  return hasPassword ? "active" : "waiting";
}

/** The crews that somebody leads, by name; one that is no longer there by its id, so that it can be taken away. */
export function ledCrews({ crews }: Pick<Person, "crews">, { operations }: CrewsToLead): string[] {
  return crews.map(({ crewId, operationId }) => {
    const crew = operations.find(({ id }) => id === operationId)?.crews.find(({ id }) => id === crewId);
    return crew?.name ?? words.gone(crewId);
  });
}

export interface CrewOption {
  readonly operationId: string;
  readonly crewId: string;
  readonly name: string;
}

/** What can be ticked: all crews there are, and those that the person leads although they are gone. */
export function crewOptions(
  { operations }: CrewsToLead,
  led: Person["crews"],
): readonly { readonly operation: string; readonly crews: readonly CrewOption[] }[] {
  const known = operations.map(({ crews, id, name }) => ({
    operation: name,
    crews: crews.map((crew): CrewOption => ({ operationId: id, crewId: crew.id, name: crew.name })),
  }));
  const isKnown = (key: Person["crews"][number]) =>
    operations.some(({ crews, id }) => id === key.operationId && crews.some((crew) => crew.id === key.crewId));
  const gone = led.filter((key) => !isKnown(key)).map((key) => ({ ...key, name: words.gone(key.crewId) }));
  return [...known, ...(gone.length > 0 ? [{ operation: "", crews: gone }] : [])];
}
