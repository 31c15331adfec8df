import { crewWords as words } from "../strings/crew.ts";
import type { AirVerdict } from "./measuredAir.ts";

/** Whether what was measured stops the work. It is said in words, and who decides. */
export function Verdict({ verdict: { beyond, judged } }: { readonly verdict: AirVerdict }) {
  if (beyond.length === 0) return <p>{judged === 0 ? words.notJudged : words.allHold}</p>;
  return (
    <div className="stopNow" role="status">
      <b>{words.stopNow}</b>
      <ul>
        {beyond.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <p>{words.whoDecides}</p>
    </div>
  );
}
