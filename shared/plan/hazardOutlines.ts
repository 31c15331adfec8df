import type { HazardKind } from "../model/quantities.ts";

/** The outline of each kind's sign in a square of 24, as SVG paths: the same on screens and on paper, told apart without colour. */
export const hazardOutlines: Readonly<Record<HazardKind, string>> = {
  wire: "M4 22V3M20 22V3M1 6h6M17 6h6M4 6q8 9 16 0",
  mast: "M12 2V22M12 4L3 22M12 4L21 22M8 22H16",
  turbine: "M12 10V22M12 10V1M12 10L4 15M12 10L20 15M8 22H16",
  tree: "M12 22V14M12 2a6 6 0 1 0 .01 0z",
  building: "M3 22V8L9 3H15L21 8V22zM8 22V13H16V22",
  other: "M12 2L23 22H1zM12 9v6M12 18v1",
};
