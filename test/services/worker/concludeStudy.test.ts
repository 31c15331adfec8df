import { describe, expect, it } from "vitest";
import type { EndedPart, StudyInput } from "../../../services/store/studyStore.ts";
import { concludeStudy } from "../../../services/worker/concludeStudy.ts";
import type { Comparison } from "../../../shared/cases/comparison.ts";
import { smallOperation } from "../../support/operation.ts";

const operation = smallOperation({});
const lost = (ask: object): EndedPart => ({
  ask,
  status: "failed",
  failure: { kind: "startedTooOften", message: "it never came to an end" },
});

describe("a conclusion", () => {
  it("tells every run of a part that was lost, in the comparison", () => {
    const cases = {
      name: "lost",
      cases: {
        formatVersion: 1,
        cases: [{ id: "wind", name: "More wind", changes: [{ kind: "changeWeather", windFactor: 1.2 }] }],
        budget: { iterations: 5 },
        seeds: 1,
        weeksPerYear: 10,
        interestPct: 3,
      },
    };
    const ask = { budget: { iterations: 5 }, seeds: 2, weeks: null };
    const input: StudyInput = { kind: "cases", ask, operation, cases, plan: null };
    const told = concludeStudy(input, [lost({ caseId: "base" }), lost({ caseId: "wind" })]);
    expect(told.status).toBe("done");
    const { base, cases: compared, failed, seeds } = (told as { result: Comparison }).result;
    expect([seeds, base.runs, compared[0]!.runs]).toEqual([2, 0, 0]);
    expect(failed).toEqual(
      [1, 2].flatMap((seed) =>
        ["base", "wind"].map((caseId) => ({ key: { caseId, seed }, message: "it never came to an end" })),
      ),
    );
  });

  it("of a study with one part is what that came to, or why it came to nothing", () => {
    const input: StudyInput = { kind: "bottlenecks", ask: {}, operation, cases: null, plan: null };
    const result = { units: [] };
    expect(concludeStudy(input, [{ ask: {}, status: "done", result }])).toEqual({ status: "done", result });
    expect(concludeStudy(input, [lost({})])).toEqual({
      status: "failed",
      failure: { kind: "partFailed", message: "it never came to an end", part: 0 },
    });
  });
});
