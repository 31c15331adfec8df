import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import type { Load } from "../../../../shared/plan/mix.ts";
import { crewWords as words } from "../strings/crew.ts";
import { useUnits } from "../units/units.ts";
import { AmountList } from "./AmountList.tsx";
import { amountWords } from "./amounts.ts";

/** What goes into a load, from top to bottom: water first, then the products in the order of the label. The last, smaller load has a list of its own, so that nobody reads in the wrong column. */
export function MixList({ stop: { mix } }: { readonly stop: SheetStop }) {
  return (
    <section className="mix">
      <h3>{words.mixTitle}</h3>
      <LoadList load={mix.full} head={words.fullLoads(mix.full.loads)} />
      {mix.last && <LoadList load={mix.last} head={words.lastLoad} />}
    </section>
  );
}

function LoadList({ head, load }: { readonly load: Load; readonly head: string }) {
  const { areaHa, system } = useUnits();
  const { carrierL, parts, size, unit } = load;
  return (
    <>
      <h4>{words.loadHead(head, amountWords(size, unit, system), areaHa(load.areaHa))}</h4>
      <AmountList
        isInOrder
        rows={[
          ...(unit === "L"
            ? [{ key: "carrier", name: words.carrier, amount: amountWords(carrierL, "L", system) }]
            : []),
          ...parts.map((part) => ({
            key: part.productId,
            name: part.name,
            more: part.registrationNumber,
            amount: amountWords(part.amount, part.unit, system),
          })),
        ]}
      />
    </>
  );
}
