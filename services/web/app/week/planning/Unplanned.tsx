import { memo, useDeferredValue, useId, useMemo, useState } from "react";
import type { OperationSummary } from "../../../../../shared/contracts/operations.ts";
import type { SessionFacts } from "../../../../../shared/contracts/session.ts";
import type { ConflictView } from "../../../../../shared/plan/weekOrders.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { common } from "../../strings/common.ts";
import { unplannedWords as words } from "../../strings/unplanned.ts";
import { useUnits } from "../../units/units.ts";
import type { MoveAsk } from "../moves/MoveDialog.tsx";
import type { OnSelect, Selected } from "../selected.ts";
import { ConflictItem } from "./ConflictItem.tsx";
import { type ConflictFilter, type ConflictGroup, conflictGroups, noFilter } from "./conflictList.ts";
import { AskRemedies, FoundRemedies } from "./Remedies.tsx";
import type { RemediesOfPlan } from "./useRemedies.ts";
import "./unplanned.css";

export interface UnplannedProps {
  readonly operation: OperationSummary;
  readonly onOperationChanged: () => void;
  readonly session: SessionFacts;
  readonly week: WeekView;
  readonly selected: Selected;
  readonly onSelect: OnSelect;
  readonly remedies: RemediesOfPlan;
  /** Null: who looks may not change the plan. */
  readonly onAsk: ((move: MoveAsk) => void) | null;
}

/** What the plan leaves out, why, and what would help. */
export function Unplanned(props: UnplannedProps) {
  const { onAsk, onOperationChanged, operation, onSelect, remedies, selected, session, week } = props;
  const { conflicts } = week;
  const titleId = useId();
  const units = useUnits();
  const [filter, setFilter] = useState(noFilter);
  const wanted = useDeferredValue(filter);
  const groups = useMemo(() => conflictGroups(conflicts, wanted), [conflicts, wanted]);
  const crewNames = useMemo(() => new Map(week.crews.map(({ id, name }) => [id, name])), [week]);
  const mayPlan = session.roles.includes("dispatcher");
  if (conflicts.length === 0) {
    return (
      <section className="unplanned" aria-labelledby={titleId}>
        <h2 id={titleId}>{words.title}</h2>
        <p>{words.none}</p>
      </section>
    );
  }
  const areaHa = conflicts.reduce((sum, one) => sum + one.areaHa, 0);
  const orders = new Set(conflicts.map(({ orderId }) => orderId)).size;
  const isNarrowed = wanted.search.trim() !== "" || wanted.kind !== "";
  const chosenOrder = selected?.kind === "order" ? selected.orderId : null;
  return (
    <section className="unplanned" aria-labelledby={titleId}>
      <h2 id={titleId}>{words.title}</h2>
      <p>{words.summary(orders, units.areaHa(areaHa))}</p>
      {onAsk !== null && <p className="quiet">{words.byHandText}</p>}
      <AskRemedies remedies={remedies} />
      <FoundRemedies
        operationId={operation.id}
        remedies={remedies}
        currency={week.currency}
        mayPutIn={mayPlan}
        onOperationChanged={onOperationChanged}
      />
      {conflicts.length > 1 && (
        <Filters conflicts={conflicts} kinds={week.conflictsByKind} filter={filter} onFilter={setFilter} />
      )}
      {groups.length === 0 && <p className="quiet">{common.nothingFound}</p>}
      {groups.map((group) => {
        const isOpen =
          isNarrowed || groups.length === 1 || group.conflicts.some(({ orderId }) => orderId === chosenOrder);
        return (
          <Group
            // What is searched for, or was chosen elsewhere, is seen at once; from then on each is as it was left.
            key={`${group.kind} ${isOpen}`}
            group={group}
            isOpen={isOpen}
            chosenOrder={chosenOrder}
            crewNames={crewNames}
            timeZone={week.timeZone}
            currency={week.currency}
            onSelect={onSelect}
            onAsk={onAsk}
            onHelp={remedies.isOpen ? null : remedies.ask}
          />
        );
      })}
    </section>
  );
}

function Filters({
  conflicts,
  filter,
  kinds,
  onFilter,
}: {
  readonly conflicts: readonly ConflictView[];
  readonly kinds: WeekView["conflictsByKind"];
  readonly filter: ConflictFilter;
  readonly onFilter: (filter: ConflictFilter) => void;
}) {
  const priorities = (Object.keys(words.priorities) as ConflictView["priority"][]).filter((one) =>
    conflicts.some(({ priority }) => priority === one),
  );
  return (
    <div className="unplannedFilters">
      <label className="wide">
        {words.search}
        <input
          type="search"
          value={filter.search}
          onChange={({ target }) => onFilter({ ...filter, search: target.value })}
        />
      </label>
      {kinds.length > 1 && (
        <label>
          {words.kind}
          <select value={filter.kind} onChange={({ target }) => onFilter({ ...filter, kind: target.value })}>
            <option value="">{words.allKinds}</option>
            {kinds.map(({ count, kind, words: kindWords }) => (
              <option key={kind} value={kind}>
                {kindWords} ({count})
              </option>
            ))}
          </select>
        </label>
      )}
      {priorities.length > 1 && (
        <label>
          {words.priority}
          <select value={filter.priority} onChange={({ target }) => onFilter({ ...filter, priority: target.value })}>
            <option value="">{words.allPriorities}</option>
            {priorities.map((one) => (
              <option key={one} value={one}>
                {words.priorities[one]}
              </option>
            ))}
          </select>
        </label>
      )}
    </div>
  );
}

/** Our choice: so many are drawn at first; two hundred would bury what is below. */
const shownAtFirst = 10;

const Group = memo(function Group({
  chosenOrder,
  crewNames,
  currency,
  group: { areaHa, conflicts, words: kindWords },
  isOpen: isOpenAtFirst,
  onAsk,
  onHelp,
  onSelect,
  timeZone,
}: {
  readonly group: ConflictGroup;
  readonly isOpen: boolean;
  readonly chosenOrder: string | null;
  readonly crewNames: ReadonlyMap<string, string>;
  readonly timeZone: string;
  readonly currency: string;
  readonly onSelect: OnSelect;
  readonly onAsk: ((move: MoveAsk) => void) | null;
  readonly onHelp: ((orderId: string) => void) | null;
}) {
  const units = useUnits();
  const [isOpen, setIsOpen] = useState(isOpenAtFirst);
  const [isAll, setIsAll] = useState(false);
  const chosenAt = conflicts.findIndex(({ orderId }) => orderId === chosenOrder);
  const shown = isAll ? conflicts : conflicts.slice(0, Math.max(shownAtFirst, chosenAt + 1));
  const orders = new Set(conflicts.map(({ orderId }) => orderId)).size;
  return (
    <details open={isOpen} onToggle={({ currentTarget }) => setIsOpen(currentTarget.open)}>
      <summary>{words.group(kindWords, orders, areaHa > 0 ? units.areaHa(areaHa) : words.noGround)}</summary>
      {isOpen && (
        <>
          <ul className="conflicts">
            {shown.map((conflict, at) => (
              <ConflictItem
                // An order may be left out twice for the same reason, in different parts.
                // biome-ignore lint/suspicious/noArrayIndexKey: the order of the list says which is which.
                key={`${conflict.orderId} ${at}`}
                conflict={conflict}
                isChosen={conflict.orderId === chosenOrder}
                crewNames={crewNames}
                timeZone={timeZone}
                currency={currency}
                onSelect={onSelect}
                onAsk={onAsk}
                onHelp={onHelp}
              />
            ))}
          </ul>
          {shown.length < conflicts.length && (
            <button type="button" onClick={() => setIsAll(true)}>
              {words.more(conflicts.length - shown.length)}
            </button>
          )}
        </>
      )}
    </details>
  );
});
