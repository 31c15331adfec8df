import type { Problem } from "../problem.ts";
import type { Roads } from "./roads.ts";

/** A block at one pad of its field: which pad an outfit works it from is left open, because a lesser outfit may take another than the best one. */
export interface Stops {
  readonly block: Int32Array;
  readonly place: Int32Array;
}

/** What a kind of aircraft takes from one stop to the next. */
export interface Moves {
  /** minutes[from * stops + to]: packing up, road, setting up and changing gear. */
  readonly minutes: Int16Array;
  /** Of cleaning, what is certain without knowing what came before. */
  readonly cleanMin: Int16Array;
  /** Packing up is part of the way home, setting up and calibrating of the way out. */
  readonly packupMin: number;
  readonly firstSetupMin: number;
}

export function everyStop(problem: Problem): Stops {
  const placeOf = new Map(problem.places.map((name, place) => [name, place]));
  const block: number[] = [];
  const place: number[] = [];
  for (const index of problem.open) {
    const { id, pads } = problem.operation.fields.features[problem.blocks[index]!.field]!.properties;
    for (const pad of pads) {
      block.push(index);
      place.push(placeOf.get(`${id}/${pad.id}`)!);
    }
  }
  return { block: Int32Array.from(block), place: Int32Array.from(place) };
}

export function movesOf(problem: Problem, { block, place }: Stops, roads: Roads, typeIndex: number): Moves {
  const { places, orders, blocks } = problem;
  const type = problem.types[typeIndex]!;
  const packupMin = Math.ceil(type.packupMin);
  const setupMin = Math.ceil(type.setupMin);
  const changeMin = Math.ceil(type.methodChangeMin + type.calibrationMin);
  const count = block.length;
  const minutes = new Int16Array(count * count);
  const cleanMin = new Int16Array(count * count);
  for (let from = 0; from < count; from++) {
    const left = orders[blocks[block[from]!]!.order]!;
    for (let to = 0; to < count; to++) {
      const next = orders[blocks[block[to]!]!.order]!;
      const on = from * count + to;
      if (place[from] !== place[to]) {
        minutes[on] = packupMin + roads.min[place[from]! * places.length + place[to]!]! + setupMin;
      }
      if (left.liquid !== next.liquid) minutes[on]! += changeMin;
      else if (left.group !== 0 && next.group !== 0 && left.group !== next.group) {
        cleanMin[on] = Math.ceil(left.cleanOutMin);
      }
    }
  }
  return { minutes, cleanMin, packupMin, firstSetupMin: Math.ceil(type.setupMin + type.calibrationMin) };
}
