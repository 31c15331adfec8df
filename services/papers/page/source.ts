/** What a paper is of, so that nobody works from an old one. */
export interface PaperSource {
  /** A few signs by which the plan is known. */
  readonly planName: string;
  /** Null where crews have not been told. */
  readonly publication: number | null;
  /** The last publication when the paper was asked for; null where there is none. */
  readonly latest: number | null;
  /** When the plan was made, or told: the same plan then gives the same paper, byte for byte. */
  readonly madeAt: Date;
}

/** `Publication 3, plan 1a2b3c4d`, or why nobody should go by it. */
export function sourceWords({ latest, planName, publication }: PaperSource): string {
  if (publication === null) return `Plan ${planName}, NOT PUBLISHED`;
  const since = latest === null || latest <= publication ? "" : `, REPLACED BY ${latest}`;
  return `Publication ${publication}${since}, plan ${planName}`;
}
