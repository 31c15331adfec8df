import { describe, expect, it } from "vitest";
import { compileProblem } from "../../../services/solver/compile.ts";
import { explainConflicts } from "../../../services/solver/explain.ts";
import { planOperation } from "../../../services/solver/planOperation.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { createState } from "../../../services/solver/state.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import type { ConflictKind, Plan } from "../../../shared/plan/plan.ts";
import { type OperationInput, smallOperation } from "../../support/operation.ts";

type Edit = (draft: OperationInput) => void;

function edited(edit: Edit): Operation {
  const draft = structuredClone(smallOperation({})) as OperationInput;
  edit(draft);
  return smallOperation(draft);
}

function planned(operation: Operation): Plan {
  const plan = planOperation(operation, { seed: 1, random: createRandom(1), doneShare: (done) => done / 60 });
  expect(checkPlan(operation, plan).breaches).toEqual([]);
  return plan;
}

const crew = (draft: OperationInput) => draft.fleet.crews[0]!;
const type = (draft: OperationInput, id: string) => draft.fleet.aircraftTypes.find((each) => each.id === id)!;
const order = (draft: OperationInput, id: string) => draft.orders.find((each) => each.id === id)!;
const withoutHelicopter: Edit = (draft) => {
  draft.fleet.aircraft = draft.fleet.aircraft.filter(({ typeId }) => typeId !== "HELI");
};

/**
 * Each case makes one thing stand in the way of order O-1, and says which. The second edit takes just that thing away again: then the order must be planned, or the
 * reason was not the reason.
 */
const cases: readonly {
  readonly name: string;
  readonly spoil: Edit;
  readonly kind: ConflictKind;
  readonly words: RegExp;
  readonly mend: Edit;
}[] = [
  {
    name: "costs more than it brings",
    spoil: (draft) => {
      order(draft, "O-1").priceCentsPerHa = 1;
    },
    kind: "notEnoughHours",
    words: /could do it on top, but at a loss of [\d.]+ EUR: it costs [\d.]+ and is worth 0\.\d+$/,
    mend: (draft) => {
      order(draft, "O-1").priceCentsPerHa = 2500;
    },
  },
  {
    name: "duty hours too short for the way",
    spoil: (draft) => {
      crew(draft).dutyMaxHoursPerDay = 0.5;
    },
    kind: "notEnoughHours",
    words:
      /^the way there, the work and the way home take at least 0 h 52 min, a crew is on duty for at most 0 h 30 min$/,
    mend: (draft) => {
      crew(draft).dutyMaxHoursPerDay = 12;
    },
  },
  {
    name: "aircraft out of service",
    spoil: (draft) => {
      for (const each of draft.fleet.aircraft) each.outOfService = [{ from: "2027-06-01", to: "2027-06-30" }];
    },
    kind: "equipmentShort",
    words: /^Small multirotor out of service: A1 2027-06-01 to 2027-06-30;/,
    mend: (draft) => {
      for (const each of draft.fleet.aircraft) each.outOfService = [];
    },
  },
  {
    name: "no aircraft of the only type that could",
    spoil: (draft) => {
      withoutHelicopter(draft);
      type(draft, "SMALL").slopeMaxPct = 5;
      draft.fields.features[0]!.properties.slopePct = 10;
    },
    kind: "noCapableAircraft",
    words: /^slope 10 %, Small multirotor allows 5 %; Light helicopter could do it, but the operation has none$/,
    mend: (draft) => {
      type(draft, "SMALL").slopeMaxPct = 10;
    },
  },
  {
    name: "a rate beyond every pump",
    spoil: (draft) => {
      withoutHelicopter(draft);
      order(draft, "O-1").carrierLPerHa = 400;
      type(draft, "HELI").liquid!.flowMaxLPerMin = 20;
    },
    kind: "noCapableAircraft",
    words: /^Small multirotor would have to put out [\d.]+ L\/min at its slowest, it can put out 12 L\/min$/,
    mend: (draft) => {
      type(draft, "SMALL").liquid!.flowMaxLPerMin = 60;
      order(draft, "O-1").priceCentsPerHa = 9000;
    },
  },
  {
    name: "nobody licensed",
    spoil: (draft) => {
      crew(draft).people[0]!.licenceClasses = [];
    },
    kind: "noQualifiedCrew",
    words: /holds licence agri$/,
    mend: (draft) => {
      crew(draft).people[0]!.licenceClasses = ["agri"];
    },
  },
  {
    name: "more water in one go than the tender carries",
    spoil: (draft) => {
      order(draft, "O-1").maySplit = false;
      draft.fleet.tenders[0]!.waterL = 300;
    },
    kind: "equipmentShort",
    words: /^the mix takes 361 L in one go, the largest tender where a crew may do it carries 300$/,
    mend: (draft) => {
      draft.fleet.tenders[0]!.waterL = 400;
    },
  },
  {
    name: "no charger",
    spoil: (draft) => {
      withoutHelicopter(draft);
      draft.fleet.chargers = [];
    },
    kind: "equipmentShort",
    words: /^overnight base B1 charges 0 of its \d+ battery sets for SMALL: chargers 0 kW, mains \d+ kW, 12 h$/,
    mend: (draft) => {
      draft.fleet.chargers = structuredClone(smallOperation({}).fleet.chargers);
    },
  },
  {
    name: "one piece of work longer than any window",
    spoil: (draft) => {
      withoutHelicopter(draft);
      order(draft, "O-1").maySplit = false;
      crew(draft).maxAircraft = 1;
      draft.settings.planning = { ...draft.settings.planning, pauseMaxMin: 0 };
      for (const step of draft.weather) if (Number(step.start.slice(11, 13)) % 2 === 1) step.windKph = 40;
    },
    kind: "windowTooShort",
    words:
      /^the work takes \d+ min with the quickest outfit that may do it; the longest window in such a crew's shift is 60 min: wind .* km\/h$/,
    // It then pauses in the hours of wind.
    mend: (draft) => {
      draft.settings.planning = { ...draft.settings.planning, pauseMaxMin: 60 };
    },
  },
  {
    name: "one piece of work longer than its windows with the pauses between them",
    spoil: (draft) => {
      withoutHelicopter(draft);
      order(draft, "O-1").maySplit = false;
      crew(draft).maxAircraft = 1;
      draft.settings.planning = { ...draft.settings.planning, pauseMaxMin: 59 };
      for (const step of draft.weather) if (Number(step.start.slice(11, 13)) % 2 === 1) step.windKph = 40;
    },
    kind: "windowTooShort",
    words: /windows with pauses between them give it at most 60 min in such a crew's shift: wind .* km\/h$/,
    mend: (draft) => {
      for (const step of draft.weather) step.windKph = 8;
    },
  },
  {
    name: "windows only when nobody is on shift",
    spoil: (draft) => {
      order(draft, "O-1").latest = "2027-06-07T06:00";
      crew(draft).shifts[0]!.from = "07:00";
    },
    kind: "windowTooShort",
    words: /^no window lies in the shift of a crew that may do it/,
    mend: (draft) => {
      crew(draft).shifts[0]!.from = "03:30";
      order(draft, "O-1").latest = "2027-06-07T07:30";
    },
  },
  {
    name: "harvest between its dates",
    spoil: (draft) => {
      draft.fields.features[0]!.properties.harvestDate = "2027-06-15";
    },
    kind: "contradiction",
    words: /too near the harvest/,
    mend: (draft) => {
      draft.fields.features[0]!.properties.harvestDate = "2027-07-15";
    },
  },
];

/** A school from which nothing of order O-1's field is far. */
const nothingLeft: Edit = (draft) => {
  draft.sensitive = {
    type: "FeatureCollection",
    features: [
      {
        type: "Feature",
        geometry: { type: "Point", coordinates: [11.046, 51.011] },
        properties: { id: "S1", kind: "school", name: "School" },
      },
    ],
  };
  draft.products[0]!.buffers = [{ kind: "school", distanceM: 900 }];
};

describe("an order that may never be worked", () => {
  const conflictOf = (edit: Edit) => planned(edited(edit)).conflicts.find(({ orderId }) => orderId === "O-1");

  it("for want of ground names the places that it is kept from", () => {
    expect(conflictOf(nothingLeft)).toMatchObject({
      kind: "bufferLeavesNothing",
      sentence: "buffers leave 0 of 24.1 ha: School 900 m",
    });
  });

  it("for its label first of all, even when no ground is left", () => {
    const conflict = conflictOf((draft) => {
      nothingLeft(draft);
      order(draft, "O-1").products[0]!.ratePerHa = 5;
    });
    expect(conflict).toMatchObject({ kind: "labelForbids", sentence: "Liquid Example at 5 L/ha, label allows 2 L/ha" });
    expect(conflict!.evidence).toMatchObject({ judgements: [{ limit: "label" }] });
  });
});

describe("the reason that is given for an order left out is the reason", () => {
  for (const { name, spoil, kind, words, mend } of cases) {
    it(name, () => {
      const spoilt = planned(edited(spoil));
      const conflict = spoilt.conflicts.find(({ orderId }) => orderId === "O-1");
      expect(conflict).toMatchObject({ kind, sentence: expect.stringMatching(words) });
      const mended = planned(
        edited((draft) => {
          spoil(draft);
          mend(draft);
        }),
      );
      expect(mended.conflicts.filter(({ orderId }) => orderId === "O-1")).toEqual([]);
    });
  }

  it("an order kept out by its neighbour on the field names it, and is done where the label lets it", () => {
    const twice: Edit = (draft) => {
      draft.products[0]!.uses[0]!.retreatmentDays = 5;
      draft.orders.push({ ...order(draft, "O-1"), id: "O-3", priceCentsPerHa: 2400 });
    };
    const apart = planned(edited(twice)).conflicts.find(({ orderId }) => orderId === "O-3");
    expect(apart).toMatchObject({
      kind: "retreatment",
      sentence: "must stay 5 days from O-1, which the plan has on the same field",
    });
    const near = planned(
      edited((draft) => {
        twice(draft);
        draft.products[0]!.uses[0]!.retreatmentDays = 1;
      }),
    );
    expect(near.conflicts.filter(({ orderId }) => orderId === "O-3")).toEqual([]);
  });

  it("two works locked to one minute name both sides, and either alone holds", () => {
    const lockBoth: Edit = (draft) => {
      const startAt = "2027-06-07T08:00";
      const { id: crewId, shifts } = crew(draft);
      const stops = ["O-1", "O-2"].map((orderId) => ({ orderId, part: 1, startAt }));
      draft.locks = [{ crewId, date: shifts[0]!.date, stops }];
    };
    const both = planned(edited(lockBoth)).conflicts.filter(({ kind }) => kind === "contradiction");
    expect(both).toHaveLength(1);
    const { orderId, because, sentence } = both[0]!;
    const other = orderId === "O-1" ? "O-2" : "O-1";
    expect(sentence).toMatch(new RegExp(`; ${other} is locked to Crew 1 on 2027-06-07 at 08:00$`));
    expect(because).toMatchObject({ sets: [[{ limit: "locked" }, { limit: "locked", orderId: other }]] });
    const one = planned(
      edited((draft) => {
        lockBoth(draft);
        draft.locks![0]!.stops = draft.locks![0]!.stops!.filter((stop) => stop.orderId === orderId);
      }),
    );
    expect(one.conflicts).toEqual([]);
  });

  it("what there is room for and what it would gain, where the search ended before it was put in", () => {
    const operation = smallOperation({});
    const calendar = createCalendar(operation.settings);
    const agronomy = createAgronomy(operation, calendar);
    const problem = compileProblem(operation, calendar, agronomy);
    const [first] = explainConflicts(problem, agronomy, createState(problem.routes));
    const { costCents, valueCents } = first!.evidence as { costCents: number; valueCents: number };
    expect(costCents).toBeLessThan(valueCents);
    const [, gain, cost, worth] =
      /could do it on top, and that would gain ([\d.]+) EUR: it costs ([\d.]+) and is worth ([\d.]+); longer planning may bring it in$/
        .exec(first!.sentence)!
        .map(Number);
    // Told to the whole unit from ten up, to the cent below.
    for (const [told, cents] of [
      [gain, valueCents - costCents],
      [cost, costCents],
      [worth, valueCents],
    ] as const) {
      expect(Math.abs(told! - cents / 100)).toBeLessThanOrEqual(cents < 1000 ? 0.01 : 0.51);
      if (cents >= 1000) expect(told! % 1).toBe(0);
    }
  });

  it("a day too short for two names who could do it instead of what, and at what loss", () => {
    const short: Edit = (draft) => {
      const { shifts } = crew(draft);
      draft.fleet.crews[0]!.shifts = [{ ...shifts[0]!, from: "06:00", to: "07:45" }];
      order(draft, "O-1").maySplit = false;
      order(draft, "O-2").maySplit = false;
    };
    const operation = edited(short);
    const plan = planned(operation);
    const out = plan.conflicts[0]!;
    const stays = out.orderId === "O-1" ? "O-2" : "O-1";
    expect(plan.conflicts).toHaveLength(1);
    expect(out.sentence).toMatch(
      new RegExp(
        `^alone it would fit .*Crew 1 on Mon 7 June \\(.* of 1 h 45 min on duty\\) could do it instead of ${stays} \\(.* ha\\) at a loss of [\\d.]+ EUR$`,
      ),
    );
    // The plan in which only the other is ordered, and what the first would have brought.
    const swapped = planned(
      edited((draft) => {
        short(draft);
        draft.orders = draft.orders.filter(({ id }) => id === out.orderId);
      }),
    );
    const { areaHa } = plan.blocks.find(({ orderId }) => orderId === stays)!;
    const lostCents = areaHa * operation.orders.find(({ id }) => id === stays)!.priceCentsPerHa;
    const lossCents = swapped.score.totalCents + lostCents - plan.score.totalCents;
    const [told] = out.evidence.instead as [{ lossCents: number; displaced: { orderId: string }[] }];
    expect(told.displaced.map(({ orderId }) => orderId)).toEqual([stays]);
    expect(Math.abs(told.lossCents - lossCents)).toBeLessThan(10);
  });

  it("a season used up by another order of the plan names it", () => {
    const plan = planned(
      edited((draft) => {
        draft.products[0]!.uses[0]!.seasonMaxPerHa = 1.5;
        draft.orders.push({ ...order(draft, "O-1"), id: "O-3", priceCentsPerHa: 2400 });
      }),
    );
    expect(plan.conflicts.find(({ orderId }) => orderId === "O-3")).toMatchObject({
      kind: "seasonMaximum",
      sentence: "what the label still allows this season is taken by O-1",
    });
  });

  it("where no tender carries all of a crew's aircraft, an order is cut for those that one carries", () => {
    const narrow: Edit = (draft) => {
      withoutHelicopter(draft);
      draft.fleet.tenders[0]!.transportSlots = 1;
      draft.settings.planning = { ...draft.settings.planning, blockMaxMin: 30 };
    };
    const plan = planned(edited(narrow));
    expect(plan.blocks.filter(({ orderId }) => orderId === "O-1").length).toBeGreaterThan(2);
    expect(plan.conflicts).toEqual([]);
  });

  it("fewer battery sets than aircraft still fly what they can: selling an aircraft wins nothing", () => {
    const scarce: Edit = (draft) => {
      withoutHelicopter(draft);
      draft.fleet.batteryStocks = [{ baseId: "B1", aircraftTypeId: "SMALL", sets: 1 }];
    };
    const both = planned(edited(scarce));
    const one = planned(
      edited((draft) => {
        scarce(draft);
        draft.fleet.aircraft = draft.fleet.aircraft.slice(0, 1);
      }),
    );
    expect(both.score.servedHa).toBeGreaterThan(0);
    expect(both.score.servedHa).toBeGreaterThanOrEqual(one.score.servedHa - 1e-3);
  });
});
