import { useSyncExternalStore } from "react";
import { type UnitSystem, unitSystems } from "../../../../shared/units/units.ts";
import { type UnitWords, unitWords } from "./unitWords.ts";

export { type UnitSystem, type UnitWords, unitSystems, unitWords };

const keptAs = "calmhour.units";
const hearers = new Set<() => void>();
let chosen: UnitSystem = unitSystems.find((one) => one === localStorage.getItem(keptAs)) ?? "metric";

export function chooseUnits(system: UnitSystem): void {
  chosen = system;
  localStorage.setItem(keptAs, system);
  for (const hear of hearers) hear();
}

export const useUnitSystem = (): UnitSystem =>
  useSyncExternalStore(
    (hear) => {
      hearers.add(hear);
      return () => hearers.delete(hear);
    },
    () => chosen,
  );

export const useUnits = (): UnitWords => unitWords(useUnitSystem());
