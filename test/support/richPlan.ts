import type { Operation } from "../../shared/model/operation.ts";
import { aircraftIdSchema } from "../../shared/model/quantities.ts";
import {
  type Block,
  blockSchema,
  type Conflict,
  type CrewDay,
  conflictSchema,
  type Plan,
} from "../../shared/plan/plan.ts";
import { scorePlan } from "../../shared/plan/score.ts";
import { writeDay } from "./richDay.ts";
import { centred, type RectangleM, rectangleHa, rectangleRing } from "./richGround.ts";
import { centres, type FieldKey, obstacleOfF2 } from "./richOperation.ts";

const ids = (list: string[]) => list.map((id) => aircraftIdSchema.parse(id));

function block(
  orderId: string,
  part: number,
  parts: number,
  field: FieldKey,
  area: RectangleM,
  holes: RectangleM[],
): Block {
  const holesHa = holes.reduce((sum, hole) => sum + rectangleHa(hole), 0);
  return blockSchema.parse({
    id: `${orderId}#${part}`,
    orderId,
    part,
    parts,
    areaHa: rectangleHa(area) - holesHa,
    geometry: {
      type: "MultiPolygon",
      coordinates: [
        [rectangleRing(centres[field], area), ...holes.map((hole) => rectangleRing(centres[field], hole).toReversed())],
      ],
    },
  });
}

/** F1 is 400 m deep; the canal's buffer takes the northern 20 m. */
const treatedF1 = { southM: -200, northM: 180 };
const blocks = {
  westOfF1: block("O-1", 1, 2, "F1", { westM: -400, eastM: 0, ...treatedF1 }, []),
  eastOfF1: block("O-1", 2, 2, "F1", { westM: 0, eastM: 400, ...treatedF1 }, []),
  againF1: block("O-2", 1, 1, "F1", { westM: -400, eastM: 400, ...treatedF1 }, []),
  f2: block("O-3", 1, 1, "F2", centred(500, 300), [obstacleOfF2]),
  f3: block("O-4", 1, 1, "F3", centred(600, 500), []),
  f4: block("O-5", 1, 1, "F4", centred(400, 300), []),
  westOfF7: block("O-7", 1, 2, "F7", { westM: -150, eastM: 0, southM: -100, northM: 100 }, []),
  eastOfF7: block("O-7", 2, 2, "F7", { westM: 0, eastM: 150, southM: -100, northM: 100 }, []),
  nightF6: block("O-8", 1, 1, "F6", centred(500, 400), []),
  f6: block("O-9", 1, 1, "F6", centred(500, 400), []),
};

function crewDays(operation: Operation): CrewDay[] {
  const eastWest = { headingDeg: 90 };
  return [
    // Past the hours of an inversion at F1, then a refill and a clean-out, then granules.
    writeDay(operation, {
      crewId: "K1",
      date: "2027-06-07",
      leave: "2027-06-07T05:30",
      aircraftIds: ["A1", "A2"],
      batterySets: 8,
      chargerIds: ["C1"],
      tenderId: "T1",
    })
      .drive("F1/P1")
      .setup()
      .waitUntil("2027-06-07T06:00")
      .work(blocks.westOfF1, { longM: 400, shortM: 380, meanPadM: 300, ...eastWest })
      .packup()
      .drive("W1")
      .refill(200)
      .drive("F2/P2")
      .setup()
      .cleanOut("fungicide", "herbicide", 20, 50)
      .work(blocks.f2, { longM: 500, shortM: 300, meanPadM: 320, ...eastWest })
      .packup()
      .drive("F4/P1")
      .methodChange("granular")
      .setup()
      .work(blocks.f4, { longM: 400, shortM: 300, meanPadM: 280, ...eastWest })
      .packup()
      .drive("B1")
      .crewDay(),
    // Done in the flowering field before the bees, then the other half of F1 when crew K1 has left it.
    writeDay(operation, {
      crewId: "K2",
      date: "2027-06-07",
      leave: "2027-06-07T04:20",
      aircraftIds: ["H1"],
      batterySets: 0,
      chargerIds: [],
      tenderId: "T2",
    })
      .drive("F3/P1")
      .setup()
      .waitUntil("2027-06-07T05:00")
      .work(blocks.f3, { longM: 600, shortM: 500, meanPadM: 450, ...eastWest })
      .packup()
      .drive("F1/P2")
      .cleanOut("insecticide", "fungicide", 15, 40)
      .setup()
      .waitUntil("2027-06-07T09:00")
      .work(blocks.eastOfF1, { longM: 400, shortM: 380, meanPadM: 300, ...eastWest })
      .packup()
      .drive("B1")
      .crewDay(),
    // The wind rises while the field is worked and falls again; then a night at another base.
    writeDay(operation, {
      crewId: "K3",
      date: "2027-06-07",
      leave: "2027-06-07T06:00",
      aircraftIds: ["A3"],
      batterySets: 4,
      chargerIds: ["C2"],
      tenderId: "T3",
    })
      .drive("F6/P1")
      .setup()
      .work(blocks.f6, { longM: 500, shortM: 400, meanPadM: 350, ...eastWest }, [
        { from: "2027-06-07T07:00", to: "2027-06-07T08:00" },
      ])
      .packup()
      .drive("B1")
      .crewDay(),
    // By night and across midnight, with the tender that crew K1 had the day before.
    writeDay(operation, {
      crewId: "K2",
      date: "2027-06-08",
      leave: "2027-06-08T22:30",
      aircraftIds: ["H1"],
      batterySets: 0,
      chargerIds: [],
      tenderId: "T1",
    })
      .drive("F6/P2")
      .setup()
      .waitUntil("2027-06-08T23:40")
      .work(blocks.nightF6, { longM: 500, shortM: 400, meanPadM: 350, ...eastWest })
      .packup()
      .drive("B1")
      .crewDay(),
    writeDay(operation, {
      crewId: "K1",
      date: "2027-06-09",
      leave: "2027-06-09T06:00",
      aircraftIds: ["A1"],
      batterySets: 6,
      chargerIds: ["C1"],
      tenderId: "T1",
    })
      .drive("F1/P1")
      .setup()
      .work(blocks.againF1, { longM: 800, shortM: 380, meanPadM: 450, ...eastWest })
      .packup()
      .drive("B1")
      .crewDay(),
    // Home from the night away.
    writeDay(operation, {
      crewId: "K3",
      date: "2027-06-08",
      from: "B1",
      leave: "2027-06-08T08:00",
      aircraftIds: ["A3"],
      batterySets: 4,
      chargerIds: ["C2"],
      tenderId: "T3",
    })
      .drive("B2")
      .crewDay(),
  ];
}

const conflicts: Conflict[] = [
  conflictSchema.parse({
    orderId: "O-6",
    blockIds: [],
    areaHa: 0,
    kind: "bufferLeavesNothing",
    sentence: "The buffer of the school covers field F5.",
    because: {
      sets: [
        [{ limit: "buffers", sensitiveId: "S3", sentence: "School 50 m", data: {} }],
        [
          { limit: "slope", aircraftTypeId: "SMALL", sentence: "too steep", data: {} },
          { limit: "apart", orderId: "O-7", sentence: "5 days from O-7", data: {} },
        ],
      ],
      hasMore: true,
    },
    evidence: {},
  }),
  conflictSchema.parse({
    orderId: "O-7",
    blockIds: ["O-7#1", "O-7#2"],
    areaHa: 6,
    kind: "notEnoughHours",
    sentence: "No crew has hours left for order O-7.",
    evidence: {},
  }),
];

/** A plan of the rich operation, made by hand: its areas and times do not come from the planner. */
export function richPlan(operation: Operation): Plan {
  const { name, timeZone, firstDay, days } = operation.settings;
  const parts = { blocks: Object.values(blocks), crewDays: crewDays(operation) };
  // Said though it is the whole outfit.
  const [{ activities }] = parts.crewDays as [CrewDay];
  for (const activity of activities) if (activity.kind === "work") activity.aircraftIds = ids(["A1", "A2"]);
  return {
    formatVersion: 1,
    operationName: name,
    timeZone,
    firstDay,
    days,
    seed: 1,
    iterations: 0,
    ...parts,
    conflicts,
    score: scorePlan(operation, parts),
  };
}
