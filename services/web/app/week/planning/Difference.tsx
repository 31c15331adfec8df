import { useId, useState } from "react";
import type { DifferenceAnswer } from "../../../../../shared/contracts/replans.ts";
import type { ChangeReason } from "../../../../../shared/replan/difference.ts";
import { inUnits } from "../../../../../shared/units/inUnits.ts";
import { shortDayWords } from "../../kit/dates.ts";
import { common } from "../../strings/common.ts";
import { planningWords } from "../../strings/planning.ts";
import { useUnits } from "../../units/units.ts";
import { type CrewDayChanges, differenceGroups, type ToldChange } from "./differenceGroups.ts";

const words = planningWords.difference;
/** Our choice: below that everything is seen at once. */
const searchFrom = 12;

/** What is otherwise in a plan than in an earlier one: counts, then crew by crew and day by day with the reason of each. */
export function Difference({ difference }: { readonly difference: DifferenceAnswer }) {
  const { counts, remarks } = difference;
  const units = useUnits();
  const [search, setSearch] = useState("");
  const all = differenceGroups(difference);
  const asked = search.trim().toLocaleLowerCase("en");
  const groups = asked === "" ? all : all.map((group) => fitting(group, asked)).filter((group) => !isEmpty(group));
  const told = (["done", "moved", "dropped", "added"] as const).filter((kind) => counts[kind] > 0);
  return (
    <div className="difference">
      <ul className="differenceCounts">
        <li>{words.counts.kept(counts.kept)}</li>
        {told.map((kind) => (
          <li key={kind}>{words.counts[kind](counts[kind])}</li>
        ))}
        {counts.outfits > 0 && <li>{words.counts.outfits(counts.outfits)}</li>}
      </ul>
      {remarks.length > 0 && (
        <>
          <h3>{words.remarks}</h3>
          <ul>
            {remarks.map(({ sentence }) => (
              <li key={sentence}>{inUnits(sentence, units)}</li>
            ))}
          </ul>
        </>
      )}
      {all.length === 0 && <p>{words.none}</p>}
      {difference.changes.length >= searchFrom && (
        <label>
          {words.search}
          <input type="search" value={search} onChange={({ target }) => setSearch(target.value)} />
        </label>
      )}
      {difference.changes.some(isPlainSaving) && <p className="quiet">{words.saves}</p>}
      {groups.length === 0 && all.length > 0 && <p className="quiet">{common.nothingFound}</p>}
      {groups.map((group) => (
        <CrewDayDifference key={`${group.date} ${group.crewId}`} group={group} />
      ))}
    </div>
  );
}

/** Of a stop that could have stayed nothing more can be said; said of each, it buries what can. */
const isPlainSaving = ({ reason }: { readonly reason: ChangeReason }) => reason === "saves";

const isEmpty = ({ outfit, stops }: CrewDayChanges) => stops.length === 0 && outfit === null;

function fitting(group: CrewDayChanges, asked: string): CrewDayChanges {
  if (group.crewName.toLocaleLowerCase("en").includes(asked)) return group;
  const stops = group.stops.filter(({ change: { fieldName, orderId } }) =>
    `${fieldName} ${orderId}`.toLocaleLowerCase("en").includes(asked),
  );
  return { ...group, stops, outfit: null };
}

function CrewDayDifference({ group: { crewName, date, outfit, stops } }: { readonly group: CrewDayChanges }) {
  const units = useUnits();
  const id = useId();
  return (
    <section aria-labelledby={id} className="crewDayDifference">
      <h3 id={id}>
        {crewName}, {shortDayWords(date)}
      </h3>
      <ul>
        {stops.map((told) => (
          <StopDifference key={`${told.role} ${told.change.blockId}`} told={told} />
        ))}
        {outfit !== null && (
          <li>
            <b>{words.outfit(outfit.before, outfit.now)}</b>
            {!isPlainSaving(outfit) && <span className="quiet"> {inUnits(outfit.sentence, units)}</span>}
          </li>
        )}
      </ul>
    </section>
  );
}

function StopDifference({ told: { change, role } }: { readonly told: ToldChange }) {
  const units = useUnits();
  const { areaHa, fieldName, orderId, sentence } = change;
  return (
    <li>
      <b className={`role ${role}`}>{words.roles[role]}</b>{" "}
      <b>
        {fieldName} ({orderId}), {units.areaHa(areaHa)}
      </b>{" "}
      {placeWords(role, change)}.{!isPlainSaving(change) && <span className="quiet"> {inUnits(sentence, units)}</span>}
    </li>
  );
}

function placeWords(role: ToldChange["role"], { before, now }: ToldChange["change"]): string {
  const was = before?.clock ?? "";
  const is = now?.clock ?? "";
  switch (role) {
    case "added":
      return words.added(is);
    case "done":
      return words.added(was);
    case "dropped":
      return words.dropped(was);
    case "otherTime":
      return words.otherTime(was, is);
    case "comes":
      return words.comes(before?.crewName ?? "", shortDayWords(before?.date ?? ""), is);
    case "goes":
      return words.goes(now?.crewName ?? "", shortDayWords(now?.date ?? ""), was);
  }
}
