import { describe, expect, it } from "vitest";
import { routeTable } from "../../../../services/api/routeTable.ts";
import { detailLines } from "../../../../services/web/app/people/changeDetails.ts";
import { crewOptions, ledCrews, personState } from "../../../../services/web/app/people/personState.ts";
import { tokenState } from "../../../../services/web/app/people/tokenState.ts";
import { actionWords, wordsOfAction } from "../../../../services/web/app/strings/changes.ts";
import { type CrewsToLead, crewKeySchema } from "../../../../shared/contracts/people.ts";

const operationId = "00000000-0000-4000-8000-000000000001";
const crewsToLead = {
  operations: [{ id: operationId, name: "Valley", crews: [{ id: "crew-1", name: "Crane 1" }] }],
} as unknown as CrewsToLead;
const keys = (...crewIds: string[]) => crewKeySchema.array().parse(crewIds.map((crewId) => ({ operationId, crewId })));

describe("people on the screen", () => {
  it("can sign in, have not yet chosen a password, or can no longer", () => {
    expect(personState({ active: true, hasPassword: true })).toBe("active");
    expect(personState({ active: true, hasPassword: false })).toBe("waiting");
    expect(personState({ active: false, hasPassword: true })).toBe("out");
  });

  it("lead crews by name, and one that is gone can still be taken from them", () => {
    const led = keys("crew-1", "crew-9");
    expect(ledCrews({ crews: led }, crewsToLead)).toEqual(["Crane 1", "crew-9 (no longer there)"]);
    const options = crewOptions(crewsToLead, led);
    expect(options.map(({ crews }) => crews.map(({ crewId }) => crewId))).toEqual([["crew-1"], ["crew-9"]]);
    expect(crewOptions(crewsToLead, keys("crew-1"))).toHaveLength(1);
  });

  it("have tokens that hold, have ended or were withdrawn", () => {
    const now = Date.parse("2027-06-14T00:00:00Z");
    const of = (expiresAt: string, revokedAt: string | null) => tokenState({ expiresAt, revokedAt }, now);
    expect(of("2027-06-14T00:00:01Z", null)).toBe("valid");
    expect(of("2027-06-14T00:00:00Z", null)).toBe("over");
    expect(of("2027-07-14T00:00:00Z", "2027-06-13T00:00:00Z")).toBe("withdrawn");
  });
});

describe("changes", () => {
  it("are told in words for everything that a route can change", () => {
    const changing = routeTable.filter(({ method }) => method !== "get");
    expect(changing.length).toBeGreaterThan(40);
    for (const { id } of changing) {
      const words = wordsOfAction(id);
      // A word of our own, or one made of a part's name.
      expect(actionWords[id] !== undefined || /^(Stored|Removed) the [a-z ]+$/.test(words), id).toBe(true);
    }
  });

  it("are told even where nobody has thought of them", () => {
    expect(wordsOfAction("putSensitivePlace")).toBe("Stored the sensitive place");
    expect(wordsOfAction("deleteWaterPoint")).toBe("Removed the water point");
    expect(wordsOfAction("somethingNew")).toBe("Something new");
  });

  it("have details that can be read", () => {
    const lines = detailLines({
      crewId: "crew-1",
      roles: ["owner", "dispatcher"],
      readOnly: false,
      note: null,
      of: { seed: 1 },
    });
    expect(lines).toEqual([
      ["crew id", "crew-1"],
      ["roles", "owner, dispatcher"],
      ["read only", "no"],
      ["of", "seed 1"],
    ]);
  });
});
