import type { PointXY } from "../../../shared/geo/plane.ts";

export interface Taken {
  readonly centre: PointXY;
  readonly radiusM: number;
  readonly fieldIndex: number;
}

/** Circles that are taken, found again by the square cells that they touch. */
export class Grid {
  readonly #cellM: number;
  readonly #cells = new Map<string, Taken[]>();

  constructor(cellM: number) {
    this.#cellM = cellM;
  }

  add(taken: Taken): void {
    for (const key of this.#keys(taken.centre, taken.radiusM)) {
      const cell = this.#cells.get(key);
      if (cell) cell.push(taken);
      else this.#cells.set(key, [taken]);
    }
  }

  /** Every taken circle that comes nearer to the point than `radiusM`. */
  near([x, y]: PointXY, radiusM: number): Taken[] {
    const found = new Set<Taken>();
    for (const key of this.#keys([x, y], radiusM)) {
      for (const taken of this.#cells.get(key) ?? []) {
        if (Math.hypot(taken.centre[0] - x, taken.centre[1] - y) < taken.radiusM + radiusM) found.add(taken);
      }
    }
    return [...found];
  }

  touches(centre: PointXY, radiusM: number): boolean {
    return this.near(centre, radiusM).length > 0;
  }

  #keys([x, y]: PointXY, radiusM: number): string[] {
    const first = (value: number) => Math.floor((value - radiusM) / this.#cellM);
    const last = (value: number) => Math.floor((value + radiusM) / this.#cellM);
    const keys: string[] = [];
    for (let column = first(x); column <= last(x); column++) {
      for (let row = first(y); row <= last(y); row++) keys.push(`${column}/${row}`);
    }
    return keys;
  }
}
