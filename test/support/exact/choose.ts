import type { LinearSolver } from "../../../services/solver/linear/solver.ts";
import type { Kit, Problem } from "../../../services/solver/problem.ts";
import { apartPairs, limitApart, limitRest } from "./between.ts";
import type { EveryDay } from "./everyDay.ts";
import type { Route } from "./route.ts";
import { createRows, type Rows } from "./rows.ts";

/** A route of the best plan and the things that it is done with. */
export interface Chosen {
  readonly route: Route;
  readonly kit: Kit;
}

export interface Choice {
  readonly chosen: readonly Chosen[];
  readonly totalCents: number;
  /** Models solved until no two routes were in each other's way. */
  readonly rounds: number;
}

/** What may be chosen from, for asking what a part of a plan costs that is not as the best has it. */
export interface Allowed {
  readonly route?: (route: Route) => boolean;
  readonly kit?: (slot: number, kit: Kit) => boolean;
  /** Slots that must go out; where they cannot, the choice costs `cannotCents` more. */
  readonly must?: readonly number[];
  /** Blocks that must be in the plan; each that cannot be costs `cannotCents` more. */
  readonly serve?: readonly number[];
}

export const cannotCents = 1e9;

/** The best set of routes, with the cost of `state.ts`: the value of blocks left out, the routes', the changes of outfit. */
export function choose(problem: Problem, days: EveryDay, solver: LinearSolver, allowed: Allowed = {}): Choice {
  const routes = days.routes.filter((route) => allowed.route?.(route) ?? true);
  const rows = createRows();
  const routeColumns = routes.map(({ gainCents }) => ({ column: rows.column(-gainCents) }));
  const kits = days.kitsOfSlot.flatMap((ofSlot, slot) =>
    ofSlot.filter((kit) => allowed.kit?.(slot, kit) ?? true).map((kit) => ({ slot, kit, column: rows.column(0) })),
  );
  const options: readonly RouteColumn[] = routes.map((route, at) => ({ route, column: routeColumns[at]!.column }));
  for (const slot of allowed.must ?? []) {
    const isIdle = rows.column(cannotCents);
    const ofSlot = options.filter(({ route }) => route.slot === slot);
    rows.atMost(-1, [[isIdle, -1], ...ofSlot.map(({ column }) => [column, -1] as const)]);
  }
  for (const block of allowed.serve ?? []) {
    const isLeftOut = rows.column(cannotCents);
    const holding = options.filter(({ route }) => (route.set & (1 << block)) !== 0);
    rows.atMost(-1, [[isLeftOut, -1], ...holding.map(({ column }) => [column, -1] as const)]);
  }
  limitBlocks(problem, rows, options);
  limitKits(problem, rows, options, kits);
  limitPools(problem, rows, kits);
  limitWeeks(problem, rows, options);
  limitSeasons(problem, rows, options);
  countChanges(problem, rows, kits);
  const pairs = apartPairs(problem, rows, options);

  const worthCents = problem.routes.valueCents.reduce((sum, cents) => sum + cents, 0);
  for (let rounds = 1; ; rounds++) {
    const outcome = solver.solve(rows.model());
    if (outcome.status !== "optimal") throw new Error(`The best plan was not found: ${JSON.stringify(outcome)}`);
    const isIn = ({ column }: { readonly column: number }) => outcome.values[column]! > 0.5;
    const taken = options.filter(isIn);
    const isFree = [limitRest(problem, rows, options, taken), limitApart(problem, rows, options, taken, pairs, isIn)];
    if (isFree.includes(false)) continue;
    const chosen = taken.map(({ route }) => ({
      route,
      kit: kits.find((one) => isIn(one) && one.slot === route.slot)!.kit,
    }));
    return { chosen, totalCents: worthCents + outcome.objective, rounds };
  }
}

export interface RouteColumn {
  readonly route: Route;
  readonly column: number;
}

interface KitColumn {
  readonly slot: number;
  readonly kit: Kit;
  readonly column: number;
}

function limitBlocks({ routes: { blockCount } }: Problem, rows: Rows, options: readonly RouteColumn[]): void {
  for (let block = 0; block < blockCount; block++) {
    rows.atMost(1, ones(options.filter(({ route }) => (route.set & (1 << block)) !== 0)));
  }
}

/** A slot has one kit, and works only as its kit does. */
function limitKits({ slots }: Problem, rows: Rows, options: readonly RouteColumn[], kits: readonly KitColumn[]): void {
  slots.forEach((_, slot) => {
    const ofSlot = kits.filter((one) => one.slot === slot);
    rows.atMost(1, ones(ofSlot));
    for (const profile of new Set(ofSlot.map(({ kit }) => kit.profile))) {
      rows.atMost(0, [
        ...ones(options.filter(({ route }) => route.slot === slot && route.profile === profile)),
        ...ofSlot.filter(({ kit }) => kit.profile === profile).map(({ column }) => [column, -1] as const),
      ]);
    }
  });
  const kitted = new Set(kits.map(({ slot, kit }) => `${slot} ${kit.profile}`));
  for (const { route, column } of options) {
    if (!kitted.has(`${route.slot} ${route.profile}`)) rows.atMost(0, [[column, 1]]);
  }
}

function limitPools(problem: Problem, rows: Rows, kits: readonly KitColumn[]): void {
  const { equipment, calendar, slots, types, placeOfBase, baseOfCrew } = problem;
  calendar.dates.forEach((_, day) => {
    const out = kits.filter(({ slot }) => slots[slot]!.days.includes(day));
    const once = (count: number, uses: (kit: Kit, thing: number) => boolean) => {
      for (let thing = 0; thing < count; thing++) rows.atMost(1, ones(out.filter(({ kit }) => uses(kit, thing))));
    };
    once(equipment.aircraftType.length, (kit, aircraft) => kit.aircraft.includes(aircraft));
    once(equipment.chargerBase.length, (kit, charger) => kit.chargers.includes(charger));
    once(equipment.tenderBase.length, (kit, tender) => kit.tender === tender);
    placeOfBase.forEach((_, base) => {
      types.forEach((_, type) => {
        const users = out.filter(
          ({ slot, kit }) => kit.option.type === type && baseOfCrew[slots[slot]!.crew] === base && kit.sets > 0,
        );
        rows.atMost(
          equipment.stock[base * types.length + type]!,
          users.map(({ kit, column }) => [column, kit.sets] as const),
        );
      });
    });
  });
}

/** The horizon is shorter than a week, so that all days of a crew count together. */
function limitWeeks({ crews, slots, calendar }: Problem, rows: Rows, options: readonly RouteColumn[]): void {
  if (calendar.dates.length > 7) throw new RangeError("A horizon of more than a week.");
  crews.forEach(({ dutyMaxHoursPerWeek }, crew) => {
    const ofCrew = options.filter(({ route }) => slots[route.slot]!.crew === crew);
    rows.atMost(
      dutyMaxHoursPerWeek * 60,
      ofCrew.map(({ route: { run }, column }) => [column, run.backMin - run.leaveMin] as const),
    );
  });
}

/** An order counts once, however many of its blocks are worked. */
function limitSeasons(problem: Problem, rows: Rows, options: readonly RouteColumn[]): void {
  const { seasonLimits, blocksOfOrder, slots } = problem;
  for (const { orders, amounts, maxCount, maxAmount } of seasonLimits) {
    const counted = orders.map((order) => {
      const isWorked = rows.column(0);
      const bits = blocksOfOrder[order]!.reduce((set, block) => set | (1 << block), 0);
      slots.forEach((_, slot) => {
        const working = options.filter(({ route }) => route.slot === slot && (route.set & bits) !== 0);
        rows.atMost(0, [...ones(working), [isWorked, -1]]);
      });
      return isWorked;
    });
    if (Number.isFinite(maxCount))
      rows.atMost(
        maxCount,
        counted.map((column) => [column, 1] as const),
      );
    if (Number.isFinite(maxAmount))
      rows.atMost(
        maxAmount,
        counted.map((column, at) => [column, amounts[at]!] as const),
      );
  }
}

/** Two days of a crew without another between them: a change when the second goes out with other aircraft or another tender. */
function countChanges(problem: Problem, rows: Rows, kits: readonly KitColumn[]): void {
  const changeCents = problem.operation.settings.planning.outfitChangeCents;
  const lookOf = ({ tender, aircraft }: Kit) => [tender, ...aircraft.toSorted((a, b) => a - b)].join(" ");
  const ofSlot = (slot: number) => kits.filter((one) => one.slot === slot);
  for (const slots of problem.slotsOfCrew) {
    slots.forEach((first, at) => {
      slots.slice(at + 1).forEach((second, between) => {
        const idle = slots.slice(at + 1, at + 1 + between).flatMap(ofSlot);
        const isChange = rows.column(changeCents);
        for (const look of new Set(ofSlot(first).map(({ kit }) => lookOf(kit)))) {
          const same = (slot: number) => ofSlot(slot).filter(({ kit }) => lookOf(kit) === look);
          const other = ofSlot(second).filter(({ kit }) => lookOf(kit) !== look);
          rows.atMost(1, [...ones(same(first)), ...ones(other), ...minusOnes(idle), [isChange, -1]]);
        }
      });
    });
  }
}

function ones(columns: readonly { readonly column: number }[]): (readonly [number, number])[] {
  return columns.map(({ column }) => [column, 1] as const);
}

function minusOnes(columns: readonly { readonly column: number }[]): (readonly [number, number])[] {
  return columns.map(({ column }) => [column, -1] as const);
}
