import { hazardOutlines } from "../../../../shared/plan/hazardOutlines.ts";
import type { PointLook } from "./items.ts";

/** The outline of every sign in a square of 24; no two are told apart by colour alone. */
const outlines: Readonly<Record<Exclude<PointLook, "stop">, string>> = {
  base: "M2 22V10l4-6h12l4 6v12h-6v-8H8v8z",
  waterPoint: "M12 2c4 6 7 9 7 13a7 7 0 0 1-14 0c0-4 3-7 7-13z",
  pad: "M12 3a9 9 0 1 0 .01 0zM12 7v10M7 12h10",
  me: "M12 4a8 8 0 1 0 .01 0zM12 9a3 3 0 1 0 .01 0z",
  dwelling: "M3 12l9-9 9 9M6 10v11h12V10",
  school: "M6 22V3l14 5-14 5",
  water: "M2 9q5-5 10 0t10 0M2 16q5-5 10 0t10 0",
  apiary: "M7 3.5h10l5 8.5-5 8.5H7L2 12z",
  organic: "M4 20C4 9 10 4 20 4c0 10-5 16-16 16zM4 20L14 10",
  "hazard wire": hazardOutlines.wire,
  "hazard mast": hazardOutlines.mast,
  "hazard turbine": hazardOutlines.turbine,
  "hazard tree": hazardOutlines.tree,
  "hazard building": hazardOutlines.building,
  "hazard other": hazardOutlines.other,
  susceptible: "M12 22V9M12 14C5 14 4 8 4 7c7 0 8 5 8 7M12 10c0-5 3-7 8-7 0 5-3 7-8 7",
};

const svgName = "http://www.w3.org/2000/svg";

/** A sign as the page draws it; of a stop its numbers. */
export function signElement(look: PointLook, text: string | null): Element {
  if (look === "stop") {
    const numbers = document.createElement("span");
    numbers.className = "mapSign stopNumbers";
    numbers.textContent = text;
    return numbers;
  }
  const svg = document.createElementNS(svgName, "svg");
  svg.setAttribute("viewBox", "-1 -1 26 26");
  svg.setAttribute("class", `mapSign ${look}`);
  for (const layer of ["signHalo", "signDrawn"]) {
    const path = document.createElementNS(svgName, "path");
    path.setAttribute("class", layer);
    path.setAttribute("d", outlines[look]);
    svg.append(path);
  }
  return svg;
}

/** How wide and high a sign is on the screen. */
export function signSizePx(look: PointLook, text: string | null): readonly [widthPx: number, heightPx: number] {
  if (look === "stop") return [Math.max(26, 12 + 9 * (text?.length ?? 0)), 26];
  return look === "base" || look === "waterPoint" || look === "me" ? [24, 24] : [18, 18];
}
