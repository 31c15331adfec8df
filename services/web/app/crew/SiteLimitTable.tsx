import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import { crewWords as words } from "../strings/crew.ts";
import { useUnits } from "../units/units.ts";
import { limitWords, setByWords } from "./siteLimitWords.ts";

/** What has to be measured on site, and within which limits. */
export function SiteLimitTable({ stop }: { readonly stop: SheetStop }) {
  const { lengthM, system } = useUnits();
  const { limits, windHeightM } = stop.siteLimits;
  if (limits.length === 0) return null;
  return (
    <>
      <table>
        <caption>{words.limitsTitle}</caption>
        <thead>
          <tr>
            <th scope="col">{words.limitHead}</th>
            <th scope="col">{words.holdsHead}</th>
            <th scope="col">{words.setByHead}</th>
          </tr>
        </thead>
        <tbody>
          {limits.map((limit) => (
            <tr key={`${limit.measure} ${limit.bound}`}>
              <th scope="row">{words.measure[limit.measure]}</th>
              <td>{words[limit.bound](limitWords(limit, system))}</td>
              <td>{setByWords(limit.setBy)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {windHeightM !== null && <p className="quiet">{words.windHeight(lengthM(windHeightM))}</p>}
    </>
  );
}
