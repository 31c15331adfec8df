import { buildModel, type ColumnDraft, type LinearModel, type RowDraft } from "../../services/solver/linear/model.ts";
import { seededRandom } from "./seededRandom.ts";

function seededWhole(seed: number) {
  const random = seededRandom(seed);
  return { random, whole: (from: number, to: number) => from + Math.floor(random() * (to - from + 1)) };
}

/** Small, with every kind of row and column: free, fixed, bounded on either side, fractional limits; many have no answer, many are degenerate. */
export function motleyModel(seed: number, share: { readonly whole: number }): LinearModel {
  const { random, whole } = seededWhole(seed);
  const rows = Array.from({ length: whole(0, 8) }, (): RowDraft => {
    const [lower, width] = [whole(-10, 20), whole(0, 15)];
    return [{ lower }, { lower, upper: lower }, { lower, upper: lower + width }, { upper: lower }][whole(0, 3)]!;
  });
  const columns = Array.from({ length: whole(1, 9) }, (): ColumnDraft => {
    const [lower, width] = [whole(-5, 5), whole(0, 9)];
    const limits = [
      { lower: -Infinity },
      { lower: -Infinity, upper: lower },
      { lower, upper: lower + width },
      { lower },
      { lower: lower + 0.5, upper: lower + width + 1.3 },
      { upper: whole(1, 9) },
    ][whole(0, 5)]!;
    const entries = rows.flatMap((_, row) => (random() < 0.6 ? [[row, whole(-5, 9) || 1] as const] : []));
    return { cost: whole(-9, 9), ...limits, integer: random() < share.whole, entries };
  });
  return buildModel(rows, columns);
}

/** Of these columns, each worth something, the dearest that use no row twice. */
export function packingModel(rows: number, columns: number, rowsPerColumn: number, seed: number): LinearModel {
  const { whole } = seededWhole(seed);
  return buildModel(
    Array.from({ length: rows }, () => ({ upper: 1 })),
    Array.from({ length: columns }, () => {
      const taken = new Set<number>();
      while (taken.size < rowsPerColumn) taken.add(whole(0, rows - 1));
      const worthCents = [...taken].reduce((sum) => sum + whole(1000, 10_000), 0);
      return { cost: -worthCents, upper: 1, integer: true, entries: [...taken].map((row) => [row, 1] as const) };
    }),
  );
}

/** A product mix: every product takes of every means. */
export function denseModel(rows: number, columns: number, seed: number): LinearModel {
  const { random } = seededWhole(seed);
  return buildModel(
    Array.from({ length: rows }, () => ({ upper: 100 * (1 + random()) })),
    Array.from({ length: columns }, () => ({
      cost: -10 * (1 + random()),
      entries: Array.from({ length: rows }, (_, row) => [row, 0.1 + random()] as const),
    })),
  );
}
