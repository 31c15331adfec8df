import { expect, test } from "vitest";
import { answerWith, type Find, unboundedOrInfeasible } from "../../../../services/solver/linear/answer.ts";
import { buildModel } from "../../../../services/solver/linear/model.ts";

const oneOfTwo = buildModel(
  [{ lower: 1 }],
  [
    { cost: 2, upper: 1.5, integer: true, entries: [[0, 1]] },
    { cost: 3, upper: 1, integer: true, entries: [[0, 1]] },
  ],
);
const says =
  (...values: number[]): Find =>
  () => ({ status: "optimal", values: Float64Array.from(values), bound: 2, rowDuals: null });

test("an engine's wrong answer stays behind the door", () => {
  expect(answerWith(says(0.5, 0.5), oneOfTwo, {})).toMatchObject({ status: "wrong" });
  expect(answerWith(says(0, 0), oneOfTwo, {})).toMatchObject({ status: "wrong" });
  expect(answerWith(() => ({ status: "unbounded" }), oneOfTwo, {})).toMatchObject({ status: "wrong" });
});

test("its noise does too", () => {
  const outcome = answerWith(says(1 - 1e-9, -1e-12), oneOfTwo, {});
  expect(outcome).toEqual({ status: "optimal", objective: 2, bound: 2, values: Float64Array.of(1, 0), duals: null });
});

test("engines see whole numbers as limits of whole numbers, and relaxed models as they are", () => {
  const seen: number[] = [];
  const find: Find = ({ columns }) => {
    seen.push(columns.upper[0]!, columns.integer[0]!);
    return { status: "stopped" };
  };
  answerWith(find, oneOfTwo, {});
  answerWith(find, oneOfTwo, { relaxed: true });
  expect(seen).toEqual([1, 1, 1.5, 0]);
});

test("no engine is asked about a model without columns", () => {
  const find: Find = () => {
    throw new Error("asked");
  };
  expect(answerWith(find, buildModel([{ upper: 1 }], []), {})).toMatchObject({ status: "optimal", objective: 0 });
  expect(answerWith(find, buildModel([{ lower: 1 }], []), {})).toEqual({ status: "infeasible" });
});

test("no cheapest answer: unbounded if there is any answer at all", () => {
  const finds =
    (status: "feasible" | "infeasible" | "stopped"): Find =>
    ({ columns }) => {
      expect(columns.cost).toEqual(new Float64Array(2));
      return status === "feasible" ? { status, values: Float64Array.of(1, 1), bound: 0, rowDuals: null } : { status };
    };
  expect(unboundedOrInfeasible(finds("feasible"), oneOfTwo, {})).toEqual({ status: "unbounded" });
  expect(unboundedOrInfeasible(finds("infeasible"), oneOfTwo, {})).toEqual({ status: "infeasible" });
  expect(unboundedOrInfeasible(finds("stopped"), oneOfTwo, {})).toEqual({ status: "stopped" });
});
