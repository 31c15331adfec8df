import { expect, it } from "vitest";
import type { Actor } from "../../../services/api/caller.ts";
import { routeTable } from "../../../services/api/routeTable.ts";
import { whyRefused } from "../../../services/api/whyRefused.ts";
import { everybody } from "../../support/acting.ts";

const known = (kind: Actor["kind"]) => ({ status: "known", actor: { ...everybody, kind } }) as const;

it("tells whoever may not call a route what it takes, in a sentence for each way to be refused", () => {
  expect(whyRefused("publishPlan", known("person"), false)).toBe(
    "This is not yours to see or do: it is for dispatchers.",
  );
  expect(whyRefused("listReports", known("person"), false)).toBe(
    "This is not yours to see or do: it is for dispatchers, crew leads, owners and links for crews' phones.",
  );
  expect(whyRefused("crewDay", known("crewLink"), true)).toBe("This is for your own crews only.");
  expect(whyRefused("makeToken", known("token"), false)).toContain("sign in with name and password");
  expect(whyRefused("auditTrail", known("token"), false)).toContain("owners and administrators");
  expect(whyRefused("crewDay", { status: "refused" }, false)).toContain("a new link");
  expect(whyRefused("publishPlan", { status: "forged" }, false)).toContain("X-CSRF-Token");
  for (const { id } of routeTable) expect(whyRefused(id, known("person"), false)).toMatch(/ for [a-z' ,]+\.$/);
});
