import type { Matrix } from "./routes.ts";

/** The matrix with rows and columns exchanged; itself where that changes nothing. */
export function exchanged(matrix: Matrix, count: number): Matrix {
  if (isSymmetric(matrix, count)) return matrix;
  const other = matrix.slice();
  for (let from = 0; from < count; from++) {
    for (let to = 0; to < count; to++) other[to * count + from] = matrix[from * count + to]!;
  }
  return other;
}

function isSymmetric(matrix: Matrix, count: number): boolean {
  for (let from = 0; from < count; from++) {
    for (let to = 0; to < from; to++) if (matrix[from * count + to] !== matrix[to * count + from]) return false;
  }
  return true;
}
