/** A rectangle on the screen. */
export interface BoxPx {
  readonly leftPx: number;
  readonly topPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

export interface LabelToPlace {
  readonly id: string;
  /** What it names. */
  readonly of: BoxPx;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly weight: number;
  /** Upon what it names, and only there. */
  readonly isUpon: boolean;
  /** Where nothing else is free, ground that lies there is covered rather than this left out. */
  readonly isNeeded: boolean;
}

const gapPx = 3;

/**
 * Where labels go so that none covers another, nor the things that it should not cover. Greedy, the heaviest first, with eight places beside and one within what they name (after Christensen, Marks and
 * Shieber, An empirical study of algorithms for point-feature label placement, ACM Transactions on Graphics 14, 1995). What finds no place
 * within the view as a whole is left out.
 */
export function placeLabels(
  labels: readonly LabelToPlace[],
  notToCover: { readonly signs: readonly BoxPx[]; readonly ground: readonly BoxPx[] },
  view: BoxPx,
): ReadonlyMap<string, { readonly leftPx: number; readonly topPx: number }> {
  const placed: BoxPx[] = [];
  const places = new Map<string, { leftPx: number; topPx: number }>();
  const inOrder = [...labels].sort((a, b) => b.weight - a.weight || (a.id < b.id ? -1 : 1));
  for (const label of inOrder) {
    const free = candidates(label).filter(
      (one) =>
        lies(one, view) &&
        placed.every((other) => !meet(one, other)) &&
        (label.isUpon || clear(notToCover.signs, label, one)),
    );
    const box =
      free.find((one) => label.isUpon || clear(notToCover.ground, label, one)) ??
      (label.isNeeded ? free[0] : undefined);
    if (box === undefined) continue;
    placed.push(box);
    places.set(label.id, { leftPx: box.leftPx, topPx: box.topPx });
  }
  return places;
}

const clear = (boxes: readonly BoxPx[], { of }: LabelToPlace, one: BoxPx): boolean =>
  boxes.every((other) => other === of || !meet(one, other));

function candidates({ heightPx, isNeeded, isUpon, of, widthPx }: LabelToPlace): BoxPx[] {
  const at = (leftPx: number, topPx: number): BoxPx => ({ leftPx, topPx, widthPx, heightPx });
  const middleLeftPx = of.leftPx + (of.widthPx - widthPx) / 2;
  const middleTopPx = of.topPx + (of.heightPx - heightPx) / 2;
  const upon = at(middleLeftPx, middleTopPx);
  if (isUpon) return [upon];
  const [leftPx, rightPx] = [of.leftPx - widthPx - gapPx, of.leftPx + of.widthPx + gapPx];
  const [abovePx, belowPx] = [of.topPx - heightPx - gapPx, of.topPx + of.heightPx + gapPx];
  const beside = [
    at(rightPx, middleTopPx),
    at(leftPx, middleTopPx),
    at(middleLeftPx, abovePx),
    at(middleLeftPx, belowPx),
    at(rightPx, abovePx),
    at(rightPx, belowPx),
    at(leftPx, abovePx),
    at(leftPx, belowPx),
  ];
  if (isNeeded) beside.push(at(middleLeftPx, abovePx - heightPx), at(middleLeftPx, belowPx + heightPx));
  return of.widthPx >= widthPx && of.heightPx >= heightPx ? [upon, ...beside] : beside;
}

export function meet(one: BoxPx, other: BoxPx): boolean {
  return (
    one.leftPx < other.leftPx + other.widthPx &&
    other.leftPx < one.leftPx + one.widthPx &&
    one.topPx < other.topPx + other.heightPx &&
    other.topPx < one.topPx + one.heightPx
  );
}

function lies(one: BoxPx, within: BoxPx): boolean {
  return (
    one.leftPx >= within.leftPx &&
    one.topPx >= within.topPx &&
    one.leftPx + one.widthPx <= within.leftPx + within.widthPx &&
    one.topPx + one.heightPx <= within.topPx + within.heightPx
  );
}
