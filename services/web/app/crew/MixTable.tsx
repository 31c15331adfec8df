import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import { crewWords as words } from "../strings/crew.ts";
import { useUnits } from "../units/units.ts";
import { amountWords } from "./amounts.ts";

/** What goes into a load, from top to bottom: water first, then the products in the order of the label. */
export function MixTable({ stop }: { readonly stop: SheetStop }) {
  const { areaHa, system } = useUnits();
  const { full, last } = stop.mix;
  const loads = last === null ? [full] : [full, last];
  const isLiquid = full.unit === "L";
  const heads = [words.fullLoads(full.loads), ...(last === null ? [] : [words.lastLoad])];
  const rows = [
    ...(isLiquid ? [{ name: words.carrier, amounts: loads.map(({ carrierL }) => [carrierL, "L"] as const) }] : []),
    ...full.parts.map(({ name, registrationNumber }, at) => ({
      name: `${name}, ${registrationNumber}`,
      amounts: loads.map(({ parts }) => [parts[at]!.amount, parts[at]!.unit] as const),
    })),
  ];
  return (
    <table className="mix">
      <caption>{words.mixTitle}</caption>
      <thead>
        <tr>
          <th scope="col">{isLiquid ? words.ingredient : words.ingredientDry}</th>
          {heads.map((head) => (
            <th key={head} scope="col">
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ amounts, name }) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            {amounts.map(([amount, unit], at) => (
              <td key={heads[at]}>{amountWords(amount, unit, system)}</td>
            ))}
          </tr>
        ))}
        <tr className="sum">
          <th scope="row">{words.total}</th>
          {loads.map(({ size, unit }, at) => (
            <td key={heads[at]}>{amountWords(size, unit, system)}</td>
          ))}
        </tr>
        <tr>
          <th scope="row">{words.enoughFor}</th>
          {loads.map((load, at) => (
            <td key={heads[at]}>{areaHa(load.areaHa)}</td>
          ))}
        </tr>
      </tbody>
    </table>
  );
}
