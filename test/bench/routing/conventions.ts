/** How a family of instances makes whole numbers of the real distances between coordinates. */
export interface Convention {
  /** units per unit of the file: of times, prizes and fixed costs too */
  readonly scale: number;
  readonly arc: (realDistance: number) => number;
}

/**
 * Each arc cut off after one decimal, everything times ten (DIMACS challenge 2021 on the VRPTW). Found by recomputing
 * the best known routes: every stated cost of the families solomon, homberger, prize and reload comes out exactly.
 */
export const tenths: Convention = { scale: 10, arc: (realDistance) => Math.floor(realDistance * 10) };

/**
 * Each arc rounded to three decimals, everything times a thousand. Found in the same way for sites, depots and fleet;
 * cut off instead of rounded, the costs come out short. X125 of fleet states 95096.96, its cost in units of money:
 * distances in thousandths times running costs in hundredths make 9509696008, so the stated one is rounded to cents.
 */
export const thousandths: Convention = { scale: 1000, arc: (realDistance) => Math.round(realDistance * 1000) };

/** Real distances, the older convention for fewest routes first (Solomon 1987). */
export const real: Convention = { scale: 1, arc: (realDistance) => realDistance };

export interface Coordinates {
  readonly x: number;
  readonly y: number;
}

export function distancesBetween(places: readonly Coordinates[], { arc }: Convention): Float64Array {
  const distance = new Float64Array(places.length * places.length);
  places.forEach((from, f) => {
    places.forEach((to, t) => {
      const [dx, dy] = [from.x - to.x, from.y - to.y];
      distance[f * places.length + t] = arc(Math.sqrt(dx * dx + dy * dy));
    });
  });
  return distance;
}

/** Infinity stays Infinity. */
export function scaled(value: number, { scale }: Convention): number {
  return scale === 1 ? value : Math.round(value * scale);
}
