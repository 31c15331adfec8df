/** What Delta T alone says of the hour, whatever the label says beside it. */
export type DeltaTBand = "cautionLow" | "preferred" | "cautionHigh" | "avoid";

/**
 * Guidance of the Australian Bureau of Meteorology as extension texts quote it: 2 to 8 preferred, under 2 caution, over 10
 * avoid. Both ends belong to the preferred band, 10 to the caution above it.
 */
export const deltaTBandsC = { preferredFrom: 2, preferredTo: 8, avoidAbove: 10 } as const;

export function deltaTBandOf(deltaTC: number): DeltaTBand {
  if (deltaTC < deltaTBandsC.preferredFrom) return "cautionLow";
  if (deltaTC <= deltaTBandsC.preferredTo) return "preferred";
  return deltaTC <= deltaTBandsC.avoidAbove ? "cautionHigh" : "avoid";
}
