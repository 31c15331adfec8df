import type { PlanRequestKind } from "../../shared/contracts/planRequests.ts";
import type { Piece } from "./queue.ts";

interface PartKey {
  readonly studyId: string;
  readonly part: number;
}

/** A part of a study as the queue knows it: the study's id and the part's number. */
export function partId({ studyId, part }: PartKey): string {
  return `${studyId}.${part}`;
}

export function partKey(id: string): PartKey {
  const at = id.lastIndexOf(".");
  return { studyId: id.slice(0, at), part: Number(id.slice(at + 1)) };
}

export function partPiece(part: PartKey & { readonly turn: number }): Piece {
  return { id: partId(part), turn: part.turn };
}

/** Planning again goes first: crews are in the field and wait for it. */
const turns: Readonly<Record<PlanRequestKind, number>> = { replan: 0, plan: 1 };

export function requestPiece({ id, kind }: { readonly id: string; readonly kind: PlanRequestKind }): Piece {
  return { id, turn: turns[kind] };
}
