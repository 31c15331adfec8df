import { batchKinds, type StudyKind } from "../../shared/contracts/studies.ts";
import type { WorkQueue } from "./queue.ts";

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

/** Parts of batches behind those of studies that somebody waits for. */
export async function addParts(
  queue: WorkQueue,
  parts: readonly (PartKey & { readonly kind: StudyKind })[],
): Promise<void> {
  const isOfBatch = ({ kind }: { readonly kind: StudyKind }) => batchKinds.includes(kind);
  await queue.add(...parts.filter((part) => !isOfBatch(part)).map(partId));
  await queue.addBehind(...parts.filter(isOfBatch).map(partId));
}
