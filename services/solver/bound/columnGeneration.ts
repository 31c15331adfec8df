import type { LinearSolver } from "../linear/solver.ts";
import type { Column } from "./column.ts";
import { addRoutes, isKnown, type Master, openMaster, solveMaster } from "./master.ts";
import { mixPrices, type Prices, pricedCents, reducedCents } from "./prices.ts";
import { createPricing, type Offer, priceExactly, raiseLabels } from "./pricing.ts";
import type { Relaxation } from "./relaxation.ts";
import { brokenTriples, mostTriples, type Triple } from "./triples.ts";

/** How the generation goes; all our choice, by trial. */
const usual = {
  /** Share of the best prices so far in those that are priced next (Pessoa, Sadykov, Uchoa & Vanderbeck 2018, "Automation and Combination of Linear-Programming Based Stabilization Techniques in Column Generation"). */
  smoothing: 0.6,
  /** A linear program counts as solved when the bound is so near to it, as a share. */
  solvedFrac: 0.0005,
  triplesAtOnce: 12,
  /** Columns that cost so much more than they bring are let go when triples come. */
  keptCents: 20_000,
};

export interface Round {
  readonly lpCents: number;
  readonly boundCents: number;
  readonly columns: number;
  readonly triples: number;
}

export interface GenerationAsk {
  readonly solver: LinearSolver;
  readonly known: readonly Column[];
  /** Prices to begin with, those of triples among them, and what they prove. */
  readonly first: (Offer & { readonly boundCents: number }) | null;
  readonly shouldStop: () => boolean;
  readonly onBetter: (boundCents: number) => void;
  readonly onRound?: (round: Round) => void;
}

export interface Generated {
  /** No plan costs less; -Infinity when there was no time for any. */
  readonly boundCents: number;
  /** What proves it; null when there was no time for any. */
  readonly proof: Proof | null;
  /** Routes that the last linear program chose from. */
  readonly columns: readonly Column[];
  /** False when it was stopped, or gave up, while the bound could still rise. */
  readonly isFinished: boolean;
}

/** Prices, and by slot what its routes then cost at least more than they bring: none above nothing. */
export interface Proof extends Offer {
  readonly slotCents: Float64Array;
}

/**
 * The best bound that routes and the prices of their linear program give. Every round prices all slots exactly, which gives a bound and routes: rounds that only look for routes
 * made more of them, and less of the time. */
export function generateColumns(
  relaxation: Relaxation,
  { solver, known, first, shouldStop, onBetter, onRound }: GenerationAsk,
): Generated {
  const slots = relaxation.outingsOfSlot.flatMap((outings, slot) => (outings.length > 0 ? [slot] : []));
  const pricing = createPricing(relaxation);
  let triples: readonly Triple[] = first?.triples ?? [];
  let master = openMaster(relaxation, solver, triples);
  addRoutes(master, relaxation, known);
  let boundCents = Number.NEGATIVE_INFINITY;
  let proof: Proof | null = null;
  /** Best prices of this linear program, and the bound that they gave. */
  let centre = first?.prices ?? null;
  let centreCents = first?.boundCents ?? Number.NEGATIVE_INFINITY;
  let smoothing = usual.smoothing;
  /** No more routes come by these prices, or none that are not there yet. */
  let isDry = false;
  let isFinished = false;

  while (!shouldStop()) {
    const answer = solveMaster(master, relaxation);
    if (answer === null) break;
    if (isDry || answer.cents - centreCents < usual.solvedFrac * answer.cents) {
      isDry = false;
      const broken = brokenTriples(master.columns, answer.shares, triples, usual.triplesAtOnce);
      isFinished = broken.length === 0;
      const kept = triples.filter((_, at) => answer.prices.triple[at]! > 0);
      if (isFinished || kept.length + broken.length > mostTriples) break;
      const next = [...kept, ...broken];
      if (centre !== null) centre = { ...centre, triple: carried(triples, centre.triple, next) };
      master = withTriples(master, relaxation, solver, next, answer.prices);
      triples = next;
      centreCents = Number.NEGATIVE_INFINITY;
      continue;
    }
    const prices: Prices = centre === null ? answer.prices : mixPrices(centre, answer.prices, smoothing);
    const offer = { prices, triples };
    const isWorth = (column: Column) =>
      reducedCents(relaxation, triples, column, answer.prices) < -1 && !isKnown(master, column);
    let cents = pricedCents(relaxation, prices);
    const slotCents = new Float64Array(relaxation.outingsOfSlot.length);
    const found: Column[] = [];
    for (const slot of slots) {
      const { leastCents, columns } = priceExactly(pricing, slot, offer, shouldStop);
      cents += leastCents;
      slotCents[slot] = leastCents;
      found.push(...columns.filter(isWorth));
    }
    if (cents > centreCents) {
      centreCents = cents;
      centre = prices;
    }
    const isBetter = centre === prices;
    if (cents > boundCents) {
      boundCents = cents;
      proof = { prices, triples, slotCents };
      onBetter(cents);
    }
    const added = addRoutes(master, relaxation, found);
    onRound?.({
      lpCents: answer.cents,
      boundCents,
      columns: master.columns.length,
      triples: triples.length,
    });
    const goesOn = !isBetter && raiseLabels(pricing);
    if (added === 0 && !goesOn) {
      isDry = smoothing === 0;
      smoothing = 0;
    } else smoothing = usual.smoothing;
  }
  master.model.dispose();
  return { boundCents, proof, columns: master.columns, isFinished };
}

function carried(triples: readonly Triple[], prices: Float64Array, next: readonly Triple[]): Float64Array {
  return Float64Array.from(next, (triple) => {
    const at = triples.indexOf(triple);
    return at < 0 ? 0 : prices[at]!;
  });
}

/** The linear program anew, because rows cannot be added to it. */
function withTriples(
  master: Master,
  relaxation: Relaxation,
  solver: LinearSolver,
  triples: readonly Triple[],
  prices: Prices,
): Master {
  const kept = master.columns.filter(
    (column) => reducedCents(relaxation, master.triples, column, prices) < usual.keptCents,
  );
  master.model.dispose();
  const next = openMaster(relaxation, solver, triples);
  addRoutes(next, relaxation, kept);
  return next;
}
