/**
 * Flight time per hectare after Baltin (1959) as aerial-application texts give it (MEMORY): loading, ferry, spraying,
 * turning and going on to the next field. It knows no whole loads and passes.
 */
export function baltinSPerHa(work: {
  rateLPerHa: number;
  loadL: number;
  groundPerLoadS: number;
  stripToFieldM: number;
  ferryMps: number;
  sprayMps: number;
  swathM: number;
  runM: number;
  turnS: number;
  nextFieldM: number;
  fieldHa: number;
}): number {
  const rateLPerM2 = work.rateLPerHa / 10_000;
  const sPerM2 =
    (rateLPerM2 / work.loadL) * work.groundPerLoadS +
    (2 * work.stripToFieldM * rateLPerM2) / (work.ferryMps * work.loadL) +
    1 / (work.sprayMps * work.swathM) +
    work.turnS / (work.swathM * work.runM) +
    work.nextFieldM / (work.ferryMps * work.fieldHa * 10_000);
  return sPerM2 * 10_000;
}

/** Inputs of a worked example; 41.0 s/ha follow from them (COMPUTED). */
export const baltinExample = {
  rateLPerHa: 20,
  loadL: 500,
  groundPerLoadS: 180,
  stripToFieldM: 5000,
  ferryMps: 50,
  sprayMps: 50,
  swathM: 20,
  runM: 1000,
  turnS: 30,
  nextFieldM: 2000,
  fieldHa: 50,
};
