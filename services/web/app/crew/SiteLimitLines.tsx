import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import { crewWords as words } from "../strings/crew.ts";
import { useUnits } from "../units/units.ts";
import { Facts } from "./Facts.tsx";
import { spansOf, spanWords, whoSetWords } from "./siteLimitWords.ts";

/** What has to be measured and seen on site, and within which limits; who set them comes once, below. */
export function SiteLimitLines({ stop }: { readonly stop: SheetStop }) {
  const { lengthM, system } = useUnits();
  const { dropletClasses, inversion, limits, rainfastHours, windHeightM } = stop.siteLimits;
  const spans = spansOf(limits);
  return (
    <section className="limits">
      <h3>{words.limitsTitle}</h3>
      <Facts
        facts={[
          ...spans.map(({ limits: both, measure }) => [words.measure[measure], spanWords(both, system)] as const),
          [words.inversion, words.inversionRule[inversion]],
          [words.rainfast, rainfastHours > 0 ? words.rainfastHours(rainfastHours) : ""],
          [words.droplets, dropletClasses.join(", ")],
        ]}
      />
      <p className="quiet">
        {windHeightM !== null &&
          spans.some(({ measure }) => measure === "wind") &&
          words.windHeight(lengthM(windHeightM))}{" "}
        {whoSetWords(spans)}
      </p>
    </section>
  );
}
