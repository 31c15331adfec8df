import type { CrewSheet } from "../../../../shared/plan/crewSheet.ts";
import type { DayMap } from "../../../../shared/plan/dayMap.ts";
import { inUnits } from "../../../../shared/units/inUnits.ts";
import { crewWords as words } from "../strings/crew.ts";
import { useUnits } from "../units/units.ts";
import { AmountList } from "./AmountList.tsx";
import { amountWords } from "./amounts.ts";
import { Facts } from "./Facts.tsx";
import { GeoLink } from "./GeoLink.tsx";

/** Who goes out with what: to be looked through at the base. */
export function TakeAlong({
  isOpen,
  map,
  sheet,
}: {
  readonly sheet: CrewSheet;
  readonly map: DayMap | null;
  readonly isOpen: boolean;
}) {
  const units = useUnits();
  const { outfit, people, totals } = sheet;
  const { cleanOutL, carrierL, dutyMin, products, roadKm, workMin } = totals;
  const cleanOut = cleanOutL > 0 ? amountWords(cleanOutL, "L", units.system) : null;
  const waterPoints = map?.places.filter(({ kind }) => kind === "water") ?? [];
  return (
    <details className="fold" open={isOpen}>
      <summary>{words.takeAlong}</summary>
      <Facts
        facts={[
          [words.people, people.map(personWords).join("; ")],
          [words.aircraft, outfit.aircraft.join("; ")],
          [words.batteries, outfit.batteries.join("; ")],
          [words.chargers, outfit.chargers.join("; ")],
          [words.tender, inUnits(outfit.tender, units)],
          [words.water, carrierL > 0 ? words.waterIn(amountWords(carrierL, "L", units.system), cleanOut) : ""],
          [words.duty, words.dutyIn(hoursWords(dutyMin), hoursWords(workMin), units.roadKm(roadKm))],
        ]}
      />
      <h3>{words.products}</h3>
      <AmountList
        rows={products.map(({ amount, name, productId, registrationNumber, unit }) => ({
          key: productId,
          name,
          more: registrationNumber,
          amount: amountWords(amount, unit, units.system),
        }))}
      />
      {waterPoints.length > 0 && (
        <>
          <h3>{words.waterPoints}</h3>
          <ul>
            {waterPoints.map(({ at: [lonDeg, latDeg], id, name }) => (
              <li key={id}>
                {name}: <GeoLink latDeg={latDeg} lonDeg={lonDeg} />
              </li>
            ))}
          </ul>
        </>
      )}
    </details>
  );
}

const personWords = ({ licenceClasses, name }: CrewSheet["people"][number]): string =>
  licenceClasses.length === 0 ? name : `${name} (${licenceClasses.join(", ")})`;

function hoursWords(minutes: number): string {
  const hours = Math.floor(minutes / 60);
  return hours === 0 ? `${minutes} min` : `${hours} h ${minutes % 60} min`;
}
