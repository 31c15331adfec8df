import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../../services/scenario/generate/generateOperation.ts";
import { compileProblem } from "../../../../services/solver/compile.ts";
import { describeProblem } from "../../../../services/solver/outside/describeProblem.ts";
import { planTours } from "../../../../services/solver/outside/planTours.ts";
import { planOperation } from "../../../../services/solver/planOperation.ts";
import { createRandom } from "../../../../services/solver/random.ts";
import { createAgronomy } from "../../../../shared/agronomy/agronomy.ts";
import { type PlanningProblem, planningProblemSchema } from "../../../../shared/contracts/planningProblem.ts";
import { addDays, createCalendar, daysBetween } from "../../../../shared/model/calendar.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import type { CrewDay, Plan } from "../../../../shared/plan/plan.ts";
import { stretchesOf, workedMin, worksOf } from "../../../../shared/plan/totals.ts";
import { crowdedOperation } from "../../../support/crowdedOperation.ts";
import { richOperation } from "../../../support/richOperation.ts";

const operations: readonly (readonly [string, Operation])[] = [
  ["a generated week", generateOperation({ orders: 40, crews: 5, days: 7, seed: 14 })],
  ["crowded fields", crowdedOperation(3)],
  ["one of everything", richOperation()],
];

function compiled(operation: Operation) {
  const calendar = createCalendar(operation.settings);
  const agronomy = createAgronomy(operation, calendar);
  const problem = compileProblem(operation, calendar, agronomy);
  return { agronomy, problem, file: describeProblem(problem) };
}

for (const [name, operation] of operations) {
  describe(`the problem in a file, of ${name}`, () => {
    const { agronomy, problem, file } = compiled(operation);

    it("is what the schema says, and nothing is lost in writing", () => {
      const text = JSON.stringify(file);
      expect(planningProblemSchema.parse(JSON.parse(text))).toEqual(JSON.parse(text));
      expect(JSON.parse(text)).toEqual(file);
      const schema = join(import.meta.dirname, "../../../../scenarios/problem-schema.json");
      const ajv = new Ajv2020({ strict: false });
      addFormats.default(ajv);
      const takes = ajv.compile(JSON.parse(readFileSync(schema, "utf8")) as object);
      expect(takes(JSON.parse(text)), JSON.stringify(takes.errors)).toBe(true);
    });

    it("has the minutes of the work table, for each outfit and block", () => {
      let compared = 0;
      for (const outfit of file.outfits) {
        const { fleet } = operation;
        const signature = problem.signatures.of({
          option: {
            type: fleet.aircraftTypes.findIndex(({ id }) => id === outfit.aircraftTypeId),
            count: outfit.aircraft,
          },
          aircraft: [],
          sets: outfit.batterySets,
          chargers: outfit.chargerIds.map((id) => fleet.chargers.findIndex((charger) => charger.id === id)),
          tender: fleet.tenders.findIndex(({ id }) => id === outfit.tenderId),
        });
        file.blocks.forEach((block, at) => {
          const work = block.work.find(({ kind }) => kind === outfit.kind);
          expect(work?.workMin ?? 0).toBe(problem.work.minutes(at, signature));
          if (work !== undefined) expect(work.place).toBe(problem.places[problem.work.place(at, signature)]);
          compared += work === undefined ? 0 : 1;
        });
      }
      expect(compared).toBeGreaterThan(file.blocks.length);
    });

    it("has the agronomy's windows", () => {
      const byId = new Map(file.windows.map((one) => [one.id, one]));
      expect(byId.size).toBe(file.windows.length);
      let spans = 0;
      for (const order of operation.orders) {
        const forbidden = agronomy.orderLimits(order).length > 0;
        for (const { part } of agronomy.parts(order)) {
          const { byType } = byId.get(part === "whole" ? order.id : `${order.id} ${part}`)!;
          for (const type of operation.fleet.aircraftTypes) {
            const written = byType.find(({ aircraftTypeId }) => aircraftTypeId === type.id);
            const never = forbidden || agronomy.typeLimits(order, type).length > 0;
            expect(written === undefined).toBe(never);
            if (written === undefined) continue;
            const wanted = (night: boolean) =>
              agronomy
                .windows(order, type, part === "rest" ? { night, rest: true } : { night })
                .windows.map(({ startMin, endMin }) => ({ startMin, endMin }));
            expect(written.day).toEqual(wanted(false));
            if (type.nightCapable) expect(written.night).toEqual(wanted(true));
            else expect(written.night).toBeUndefined();
            spans += written.day.length;
          }
        }
      }
      expect(spans).toBeGreaterThan(0);
      for (const block of file.blocks) expect(byId.has(block.windows)).toBe(true);
    });

    it("has the roads as they are listed", () => {
      const at = (place: string) => file.places.findIndex((one) => one.place === place);
      for (const { from, to, distanceKm, durationMin } of operation.roads) {
        expect(file.travelKm[at(from)]![at(to)]).toBe(distanceKm);
        expect(file.travelMin[at(from)]![at(to)]).toBe(Math.ceil(durationMin));
      }
      expect(file.travelKm.map((row) => row.length)).toEqual(file.places.map(() => file.places.length));
    });

    it("loses what the score says when nothing is planned", () => {
      const nothing = planTours(operation, []);
      if (!nothing.ok) throw new Error("no tours have no faults");
      const sumCents = file.blocks.reduce((sum, { valueCents }) => sum + valueCents, 0);
      expect(nothing.plan.score.totalCents).toBe(Math.round(sumCents));
    });

    it("gives the score of a plan by its own words and numbers, and the plan keeps to them", () => {
      const plan = planOperation(operation, { seed: 1, random: createRandom(1), doneShare: (done) => done / 80 });
      expect(plan.crewDays.length).toBeGreaterThan(0);
      for (const crewDay of plan.crewDays) keepsTo(file, crewDay);
      // The score rounds seven parts.
      expect(Math.abs(centsByWords(file, plan) - plan.score.totalCents)).toBeLessThanOrEqual(3.5);
    });
  });
}

/** Outfit, windows, least minutes, places and roads of a crew-day, as a solver would read them from the file. */
function keepsTo(file: PlanningProblem, { crewId, date, outfit, activities, ...rest }: CrewDay): void {
  const slot = file.slots.find((one) => one.crewId === crewId && one.date === date)!;
  const crew = file.crews.find(({ id }) => id === crewId)!;
  const typeOf = new Map(
    file.pools.flatMap(({ aircraft }) => aircraft.map(({ id, aircraftTypeId }) => [id, aircraftTypeId])),
  );
  const offered = file.outfits.find(
    ({ id, aircraftTypeId, aircraft, tenderId }) =>
      slot.outfitIds.includes(id) &&
      aircraftTypeId === typeOf.get(outfit.aircraftIds[0]!) &&
      aircraft === outfit.aircraftIds.length &&
      tenderId === outfit.tenderId,
  )!;
  expect(outfit.batterySets[0]?.sets ?? 0).toBeLessThanOrEqual(offered.batterySets);
  expect(activities[0]!.startMin).toBeGreaterThanOrEqual(slot.shiftFromMin);
  expect(activities.at(-1)!.endMin).toBeLessThanOrEqual(slot.shiftToMin);
  const licences = crew.mayTake.find(({ outfitId }) => outfitId === offered.id)!.licences;
  for (const work of worksOf({ crewId, date, outfit, activities, ...rest })) {
    const block = file.blocks.find(({ id }) => id === work.blockId)!;
    expect(licences).toContain(file.orders.find(({ id }) => id === block.orderId)!.licences);
    const { workMin, place } = block.work.find(({ kind }) => kind === offered.kind)!;
    const pauses = work.pauses ?? [];
    expect(workedMin(work)).toBeGreaterThanOrEqual(workMin + pauses.length * file.pauses.resumeMin);
    // Fewer sets may make another pad the best one.
    expect(place.split("/")[0]).toBe(block.fieldId);
    const open = file.windows
      .find(({ id }) => id === block.windows)!
      .byType.find(({ aircraftTypeId }) => aircraftTypeId === offered.aircraftTypeId)!;
    const spans = crew.nightWork ? (open.night ?? open.day) : open.day;
    for (const stretch of stretchesOf(work)) {
      expect(spans.some(({ startMin, endMin }) => startMin <= stretch.startMin && stretch.endMin <= endMin)).toBe(true);
    }
  }
  const at = (place: string) => file.places.findIndex((one) => one.place === place);
  for (const drive of activities.filter(({ kind }) => kind === "drive")) {
    if (drive.kind !== "drive") continue;
    expect(drive.endMin - drive.startMin).toBe(file.travelMin[at(drive.from)]![at(drive.to)]);
    expect(drive.distanceKm).toBe(file.travelKm[at(drive.from)]![at(drive.to)]);
  }
}

/** The objective as the file words it. */
function centsByWords(file: PlanningProblem, plan: Plan): number {
  const { costs } = file;
  let cents = 0;
  const done = new Set<string>();
  const outfits = new Map<string, string>();
  const dateOf = (min: number) =>
    file.days.findLast(({ startMin }) => startMin <= min)?.date ?? addDays(file.days[0]!.date, -1);
  for (const crewDay of plan.crewDays.toSorted((a, b) => a.date.localeCompare(b.date))) {
    const { activities, outfit, crewId } = crewDay;
    const crew = file.crews.find(({ id }) => id === crewId)!;
    const typeId = file.pools.flatMap(({ aircraft }) => aircraft).find(({ id }) => id === outfit.aircraftIds[0])!;
    const type = file.aircraftTypes.find(({ id }) => id === typeId.aircraftTypeId)!;
    const hours = (activities.at(-1)!.endMin - activities[0]!.startMin) / 60;
    const overHours = Math.max(0, hours - crew.standardHoursPerDay);
    cents += crew.costCentsPerHour * (hours + overHours * (costs.overtimeFactor - 1));
    for (const one of activities) if (one.kind === "drive") cents += one.distanceKm * costs.driveCentsPerKm;
    for (const work of worksOf(crewDay)) {
      const { blockId, endMin } = work;
      done.add(blockId);
      const block = file.blocks.find(({ id }) => id === blockId)!;
      const { preferredDate } = file.orders.find(({ id }) => id === block.orderId)!;
      cents += (workedMin(work) / 60) * outfit.aircraftIds.length * type.runningCentsPerHour;
      const lateDays = preferredDate === undefined ? 0 : daysBetween(preferredDate, dateOf(endMin - 1));
      cents += Math.max(0, lateDays) * block.areaHa * costs.lateCentsPerHaDay;
    }
    const things = [outfit.tenderId, ...outfit.aircraftIds.toSorted()].join(" ");
    if ((outfits.get(crewId) ?? things) !== things) cents += costs.outfitChangeCents;
    outfits.set(crewId, things);
  }
  return cents + file.blocks.reduce((sum, { id, valueCents }) => sum + (done.has(id) ? 0 : valueCents), 0);
}
