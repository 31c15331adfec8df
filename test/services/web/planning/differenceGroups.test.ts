import { describe, expect, it } from "vitest";
import { differenceGroups } from "../../../../services/web/app/week/planning/differenceGroups.ts";
import type { OutfitChange, StopChange, StopPlace } from "../../../../shared/replan/difference.ts";

const place = (crew: string, date: string, clock: string) =>
  ({
    crewId: crew,
    crewName: crew.toUpperCase(),
    date,
    clock,
    startAt: `${date}T${clock}:00+02:00`,
  }) as StopPlace;

const change = (kind: StopChange["kind"], blockId: string, before: StopPlace | null, now: StopPlace | null) =>
  ({
    kind,
    blockId,
    orderId: blockId.split("#")[0],
    fieldId: "F-1",
    fieldName: "Long Acre",
    areaHa: 5,
    before,
    now,
    reason: "saves",
    sentence: "The plan costs less this way.",
  }) as StopChange;

const rolesOf = (changes: readonly StopChange[], outfits: readonly OutfitChange[] = []) =>
  differenceGroups({ changes: [...changes], outfits: [...outfits] }).map(({ crewId, date, outfit, stops }) => [
    crewId,
    date,
    stops.map((told) => `${told.role} ${told.change.blockId}`),
    outfit?.now ?? null,
  ]);

describe("what is otherwise, as each crew reads it", () => {
  it("tells a stop that goes to another crew to both of them", () => {
    const moved = change("moved", "O-1#1", place("a", "2027-06-14", "08:00"), place("b", "2027-06-15", "06:30"));
    expect(rolesOf([moved])).toEqual([
      ["a", "2027-06-14", ["goes O-1#1"], null],
      ["b", "2027-06-15", ["comes O-1#1"], null],
    ]);
  });

  it("tells one that begins at another time of the same day once, where it stands now", () => {
    const moved = change("moved", "O-1#1", place("a", "2027-06-14", "08:00"), place("a", "2027-06-14", "05:40"));
    const added = change("added", "O-2#1", null, place("a", "2027-06-14", "06:10"));
    expect(rolesOf([added, moved])).toEqual([["a", "2027-06-14", ["otherTime O-1#1", "added O-2#1"], null]]);
  });

  it("has what is done or dropped on the day on which it was, days in order, and other outfits beside", () => {
    const dropped = change("dropped", "O-3#1", place("b", "2027-06-16", "07:00"), null);
    const done = change("done", "O-4#1", place("a", "2027-06-14", "07:00"), null);
    const outfit = { crewId: "a", crewName: "A", date: "2027-06-15", before: "1 × X", now: "2 × X" } as OutfitChange;
    expect(rolesOf([dropped, done], [outfit])).toEqual([
      ["a", "2027-06-14", ["done O-4#1"], null],
      ["a", "2027-06-15", [], "2 × X"],
      ["b", "2027-06-16", ["dropped O-3#1"], null],
    ]);
  });

  it("orders stops by the moment, not by the clock: the hour that comes twice in autumn", () => {
    // Europe/Madrid, 31 October 2027: 02:30 summer time lies before 02:10 winter time (EU Directive 2000/84/EC).
    const early = { ...place("a", "2027-10-31", "02:30"), startAt: "2027-10-31T02:30:00+02:00" } as StopPlace;
    const late = { ...place("a", "2027-10-31", "02:10"), startAt: "2027-10-31T02:10:00+01:00" } as StopPlace;
    expect(rolesOf([change("added", "O-2#1", null, late), change("added", "O-1#1", null, early)])).toEqual([
      ["a", "2027-10-31", ["added O-1#1", "added O-2#1"], null],
    ]);
  });
});
