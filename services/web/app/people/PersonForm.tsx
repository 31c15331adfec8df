import { useId, useState } from "react";
import type { Role } from "../../../../shared/contracts/access.ts";
import type { CrewsToLead, Person } from "../../../../shared/contracts/people.ts";
import { Failure } from "../kit/states.tsx";
import { common } from "../strings/common.ts";
import { peopleWords as words } from "../strings/people.ts";
import { crewOptions } from "./personState.ts";

export interface PersonFormValue {
  readonly name: string;
  readonly shownName: string;
  readonly roles: readonly Role[];
  readonly crews: Person["crews"];
  readonly active: boolean;
}

const allRoles = Object.keys(words.role) as Role[];
const newPerson: PersonFormValue = { name: "", shownName: "", roles: [], crews: [], active: true };

export function PersonForm({
  crewsToLead,
  onStore,
  person,
}: {
  /** Null: somebody new. */
  readonly person: Person | null;
  readonly crewsToLead: CrewsToLead;
  readonly onStore: (value: PersonFormValue) => Promise<unknown>;
}) {
  const [value, setValue] = useState<PersonFormValue>(person ?? newPerson);
  const [error, setError] = useState<Error | null>(null);
  const [isBusy, setIsBusy] = useState(false);
  const [noRole, setNoRole] = useState(false);
  const put = (change: Partial<PersonFormValue>) => setValue((before) => ({ ...before, ...change }));
  const leads = value.roles.includes("crewLead");
  return (
    <form
      className="personForm"
      onSubmit={(event) => {
        event.preventDefault();
        setNoRole(value.roles.length === 0);
        if (value.roles.length === 0) return;
        setError(null);
        setIsBusy(true);
        onStore({ ...value, crews: leads ? value.crews : [] })
          .catch(setError)
          .finally(() => setIsBusy(false));
      }}
    >
      <Line
        label={words.shownName}
        hint={words.shownNameHint}
        value={value.shownName}
        onChange={(shownName) => put({ shownName })}
      />
      {person === null && (
        <Line
          label={words.signInName}
          hint={words.signInNameHint}
          value={value.name}
          onChange={(name) => put({ name })}
        />
      )}
      <fieldset>
        <legend>{words.roles}</legend>
        {allRoles.map((role) => (
          <Mark
            key={role}
            label={words.role[role]}
            hint={words.roleHint[role]}
            isMarked={value.roles.includes(role)}
            onMark={(isMarked) =>
              put({ roles: allRoles.filter((one) => (one === role ? isMarked : value.roles.includes(one))) })
            }
          />
        ))}
        {noRole && value.roles.length === 0 && (
          <p className="failure" role="alert">
            {words.noRole}
          </p>
        )}
      </fieldset>
      {leads && <LedCrews crewsToLead={crewsToLead} led={value.crews} onChange={(crews) => put({ crews })} />}
      {person !== null && (
        <Mark
          label={words.mayEnter}
          hint={words.mayEnterHint}
          isMarked={value.active}
          onMark={(active) => put({ active })}
        />
      )}
      {error && <Failure error={error} />}
      <button type="submit" className="main" disabled={isBusy}>
        {common.save}
      </button>
    </form>
  );
}

function LedCrews({
  crewsToLead,
  led,
  onChange,
}: {
  readonly crewsToLead: CrewsToLead;
  readonly led: Person["crews"];
  readonly onChange: (led: Person["crews"]) => void;
}) {
  const groups = crewOptions(crewsToLead, led);
  if (groups.length === 0) return <p className="quiet">{words.noCrews}</p>;
  return groups.map(({ crews, operation }) => (
    <fieldset key={operation}>
      <legend>{operation === "" ? words.crews : words.crewsOf(operation)}</legend>
      {crews.map(({ crewId, name, operationId }) => {
        const isThis = (one: Person["crews"][number]) => one.crewId === crewId && one.operationId === operationId;
        const others = led.filter((one) => !isThis(one));
        return (
          <Mark
            key={crewId}
            label={name}
            isMarked={led.some(isThis)}
            onMark={(isMarked) =>
              onChange(isMarked ? [...others, { operationId, crewId } as Person["crews"][number]] : others)
            }
          />
        );
      })}
    </fieldset>
  ));
}

function Line({
  hint,
  label,
  onChange,
  value,
}: {
  readonly label: string;
  readonly hint: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
}) {
  const hintId = useId();
  return (
    <label>
      {label}
      <input
        required
        maxLength={100}
        autoComplete="off"
        spellCheck={false}
        value={value}
        aria-describedby={hintId}
        onChange={({ target }) => onChange(target.value)}
      />
      <small id={hintId}>{hint}</small>
    </label>
  );
}

function Mark({
  hint,
  isMarked,
  label,
  onMark,
}: {
  readonly label: string;
  readonly hint?: string;
  readonly isMarked: boolean;
  readonly onMark: (isMarked: boolean) => void;
}) {
  const hintId = useId();
  return (
    <div className="mark">
      <label className="inline">
        <input
          type="checkbox"
          checked={isMarked}
          aria-describedby={hint ? hintId : undefined}
          onChange={({ target }) => onMark(target.checked)}
        />
        {label}
      </label>
      {hint && <small id={hintId}>{hint}</small>}
    </div>
  );
}
