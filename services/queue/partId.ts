/** A part of a study as the queue knows it: the study's id and the part's number. */
export function partId({ studyId, part }: { readonly studyId: string; readonly part: number }): string {
  return `${studyId}.${part}`;
}

export function partKey(id: string): { readonly studyId: string; readonly part: number } {
  const at = id.lastIndexOf(".");
  return { studyId: id.slice(0, at), part: Number(id.slice(at + 1)) };
}
