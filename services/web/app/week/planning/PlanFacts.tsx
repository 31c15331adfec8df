import type { ListedPlan, Publication } from "../../../../../shared/contracts/plans.ts";
import type { OrderView } from "../../../../../shared/plan/weekOrders.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { inUnits } from "../../../../../shared/units/inUnits.ts";
import { planningWords as words } from "../../strings/planning.ts";
import { useUnits } from "../../units/units.ts";
import { planSentence } from "./planNames.ts";
import { momentWords, moneyWords } from "./times.ts";

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
  const leftOut = new Map(week?.conflicts.map(({ orderId, priority }) => [orderId, priority]));
  const figures: readonly (readonly [string, string])[] = [
    [words.behind.area, words.ofArea(units.areaHa(servedHa), units.areaHa(orderedHa))],
    ...(week === null
      ? []
      : ([
          [
            words.behind.conflicts,
            words.leftOut(leftOut.size, leftOutOf(leftOut, "mandatory"), leftOutOf(leftOut, "high")),
          ],
        ] as const)),
    [words.behind.duty, words.hours(Math.round(dutyMin / 60))],
    [words.behind.road, units.roadKm(roadKm)],
    ...(week === null ? [] : ([[words.behind.cost, moneyWords(totalCents, week.currency)]] as const)),
  ];
  return (
    <div className="planFacts">
      <p className={`planState ${plan.state}`}>
        {planSentence(plan, publication, week?.timeZone)}
        {plan.version < operationVersion && ` ${words.olderVersion}`}
      </p>
      <dl className="planFigures">
        {figures.map(([name, figure]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{figure}</dd>
          </div>
        ))}
      </dl>
      {week !== null && <Broken week={week} />}
      {week !== null && <More week={week} publication={publication} />}
    </div>
  );
}

const leftOutOf = (leftOut: ReadonlyMap<string, OrderView["priority"]>, priority: OrderView["priority"]) =>
  [...leftOut.values()].filter((one) => one === priority).length;

/** What must not be overlooked. */
function Broken({ week: { brokenLocks, check } }: { readonly week: WeekView }) {
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
    </>
  );
}

function More({
  publication,
  week: { check, currency, proof, score, timeZone },
}: {
  readonly week: WeekView;
  readonly publication: Publication | null;
}) {
  return (
    <details className="planProof">
      <summary>{words.more}</summary>
      {publication !== null && (
        <p>
          {words.told(publication.byName, momentWords(publication.createdAt, timeZone))}
          {publication.note !== "" && ` ${words.note(publication.note)}`}
        </p>
      )}
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
  );
}
