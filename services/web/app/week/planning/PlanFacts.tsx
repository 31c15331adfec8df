import type { ListedPlan, Publication } from "../../../../../shared/contracts/plans.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { inUnits } from "../../../../../shared/units/inUnits.ts";
import { planningWords as words } from "../../strings/planning.ts";
import { useUnits } from "../../units/units.ts";
import { planSentence } from "./planNames.ts";
import { durationWords, moneyWords } from "./times.ts";

/** What a plan is and what it comes to. */
export function PlanFacts({
  operationVersion,
  plan,
  publication,
  week,
}: {
  readonly plan: ListedPlan;
  readonly week: WeekView | null;
  readonly publication: Publication | null;
  readonly operationVersion: number;
}) {
  const units = useUnits();
  const { dutyMin, orderedHa, roadKm, servedHa, totalCents } = plan.totals;
  return (
    <div className="planFacts">
      <p className={`planState ${plan.state}`}>
        {planSentence(plan, publication, week?.timeZone)}
        {plan.version < operationVersion && ` ${words.olderVersion}`}
        {publication !== null && publication.note !== "" && (
          <span className="quiet"> {words.note(publication.note)}</span>
        )}
      </p>
      <dl className="planFigures">
        <div>
          <dt>{words.figures.area}</dt>
          <dd>{words.ofArea(units.areaHa(servedHa), units.areaHa(orderedHa))}</dd>
        </div>
        {week !== null && (
          <div>
            <dt>{words.figures.conflicts}</dt>
            <dd>{words.leftOut(new Set(week.conflicts.map(({ orderId }) => orderId)).size)}</dd>
          </div>
        )}
        <div>
          <dt>{words.figures.duty}</dt>
          <dd>{durationWords(dutyMin)}</dd>
        </div>
        <div>
          <dt>{words.figures.road}</dt>
          <dd>{units.roadKm(roadKm)}</dd>
        </div>
        {week !== null && (
          <div>
            <dt title={words.costHint}>{words.figures.cost}</dt>
            <dd>{moneyWords(totalCents, week.currency)}</dd>
          </div>
        )}
      </dl>
      {week !== null && <Verdict week={week} />}
    </div>
  );
}

function Verdict({ week: { brokenLocks, check, proof, score, currency } }: { readonly week: WeekView }) {
  const units = useUnits();
  return (
    <>
      {!check.ok && (
        <div className="failure" role="alert">
          <p>{words.check.bad(check.breaches.length)}</p>
          <ul>
            {check.breaches.map(({ rule, sentence }) => (
              <li key={`${rule} ${sentence}`}>{inUnits(sentence, units)}</li>
            ))}
          </ul>
        </div>
      )}
      {brokenLocks.length > 0 && (
        <div className="failure">
          <p>{words.brokenLocks(brokenLocks.length)}</p>
          <ul>
            {brokenLocks.map(({ crewName, date, sentence, what }) => (
              <li key={`${crewName} ${date} ${what}`}>
                {what}: {inUnits(sentence, units)}
              </li>
            ))}
          </ul>
        </div>
      )}
      <details className="planProof">
        <summary>{words.more}</summary>
        <p>{proof}</p>
        {check.ok && <p>{words.check.good(check.checks, check.rules)}</p>}
        <p>{words.costHint}</p>
        <ul>
          {score.parts
            .filter(({ cents }) => cents !== 0)
            .map(({ cents, part, words: partWords }) => (
              <li key={part}>
                {moneyWords(cents, currency)} {partWords}
              </li>
            ))}
        </ul>
      </details>
    </>
  );
}
