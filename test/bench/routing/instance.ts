/**
 * A routing instance of the research literature in one neutral form, whatever family it comes from. Places count the
 * depots first, then the stops: stop s lies at place depots + s. Distances, times, prizes and costs are in one scaled
 * unit per family, so that the costs that the literature states come out exactly (conventions.ts). Where a family has
 * no windows, `to` is Infinity.
 */
export interface RoutingStop {
  readonly place: number;
  readonly demand: number;
  readonly serviceTime: number;
  /** service may start in [from, to] */
  readonly from: number;
  readonly to: number;
  /** the trip that serves it leaves no earlier */
  readonly release: number;
  /** undefined: mandatory */
  readonly prize: number | undefined;
}

export interface RoutingVehicle {
  readonly count: number;
  readonly startPlace: number;
  readonly endPlace: number;
  readonly capacity: number;
  /** once for every vehicle that leaves */
  readonly fixedCost: number;
  /** per unit of distance */
  readonly unitCost: number;
  readonly from: number;
  readonly to: number;
  /** from leaving the first time to coming back the last; Infinity: none */
  readonly maxDuration: number;
  /** allowed[stop] 1/0; null: all */
  readonly allowed: Uint8Array | null;
  /** may come back to its start place and fill up between trips */
  readonly reloads: boolean;
}

export interface RoutingInstance {
  readonly name: string;
  readonly family: "solomon" | "homberger" | "prize" | "sites" | "depots" | "fleet" | "reload";
  readonly places: number;
  /** [from * places + to], integers in the scaled unit of the .sol convention */
  readonly distance: Float64Array;
  readonly duration: Float64Array;
  readonly stops: readonly RoutingStop[];
  /** identical vehicles that follow each other in the file are one entry */
  readonly vehicles: readonly RoutingVehicle[];
}

export interface RoutingTour {
  /** index into vehicles */
  readonly vehicle: number;
  /** stops by trip; one trip unless the vehicle reloads */
  readonly trips: readonly (readonly number[])[];
}
