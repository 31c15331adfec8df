import { useCallback, useMemo, useState } from "react";
import type { CrewsToLead, Person } from "../../../../shared/contracts/people.ts";
import { ask, get, pathOf, post } from "../api/call.ts";
import { type Column, DataTable, type TableFilter } from "../kit/DataTable.tsx";
import { Dialog } from "../kit/Dialog.tsx";
import { instantWords } from "../kit/instants.ts";
import { say } from "../kit/Say.tsx";
import { errorWords, Shown } from "../kit/states.tsx";
import { ToldOnce } from "../kit/ToldOnce.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { common } from "../strings/common.ts";
import { peopleWords as words } from "../strings/people.ts";
import { PersonForm, type PersonFormValue } from "./PersonForm.tsx";
import { ledCrews, personState } from "./personState.ts";
import "./people.css";

interface PasswordLink {
  readonly address: string;
  readonly expiresAt: string;
}

interface House {
  readonly people: readonly Person[];
  readonly crewsToLead: CrewsToLead;
}

/** What stands over the list just now. */
type Open =
  | { readonly kind: "form"; readonly person: Person | null; readonly etag: string | null }
  | { readonly kind: "link"; readonly name: string; readonly link: PasswordLink }
  | { readonly kind: "signOut"; readonly person: Person };

const fetchHouse = async (signal: AbortSignal): Promise<House> => {
  const [{ people }, crewsToLead] = await Promise.all([
    get<{ people: Person[] }>("/api/people", signal),
    get<CrewsToLead>("/api/crews-to-lead", signal),
  ]);
  return { people, crewsToLead };
};

export default function PeopleRoom() {
  const asked = useAsked(fetchHouse);
  const [open, setOpen] = useState<Open | null>(null);
  const close = useCallback(() => setOpen(null), []);
  const trouble = useCallback((error: Error) => say(errorWords(error), true), []);

  async function store(person: Person | null, etag: string | null, value: PersonFormValue): Promise<void> {
    const { active, name, ...others } = value;
    if (person === null) {
      const made = await post<{ passwordLink: PasswordLink | null }>("/api/people", { ...others, name });
      say(words.added(value.shownName));
      setOpen(made.passwordLink && { kind: "link", name: value.shownName, link: made.passwordLink });
    } else {
      const { crews, roles, shownName } = others;
      const body = { shownName, roles, crews, active };
      await ask(pathOf`/api/people/${person.id}`, { method: "PUT", body, ...(etag === null ? {} : { ifMatch: etag }) });
      say(words.stored(value.shownName));
      close();
    }
    asked.again();
  }

  const begin = useCallback(
    (person: Person) =>
      void ask<Person>(pathOf`/api/people/${person.id}`).then(
        ({ body, etag }) => setOpen({ kind: "form", person: body, etag }),
        trouble,
      ),
    [trouble],
  );
  const makeLink = useCallback(
    ({ id, shownName }: Person) =>
      void ask<PasswordLink>(pathOf`/api/people/${id}/password-link`, { method: "POST" }).then(
        ({ body }) => setOpen({ kind: "link", name: shownName, link: body }),
        trouble,
      ),
    [trouble],
  );

  return (
    <>
      <div className="roomTop">
        <div>
          <h1>{words.title}</h1>
          <p className="quiet">{words.text}</p>
        </div>
        <button
          type="button"
          className="main"
          disabled={asked.value === null}
          onClick={() => setOpen({ kind: "form", person: null, etag: null })}
        >
          {words.add}
        </button>
      </div>
      <Shown asked={asked}>
        {(house) => (
          <PeopleTable
            house={house}
            onChange={begin}
            onLink={makeLink}
            onSignOut={(person) => setOpen({ kind: "signOut", person })}
          />
        )}
      </Shown>
      {open?.kind === "form" && asked.value && (
        <Dialog title={open.person ? words.changeTitle(open.person.shownName) : words.addTitle} onClose={close}>
          <PersonForm
            person={open.person}
            crewsToLead={asked.value.crewsToLead}
            onStore={(value) => store(open.person, open.etag, value)}
          />
        </Dialog>
      )}
      {open?.kind === "link" && (
        <Dialog title={words.newLinkTitle(open.name)} onClose={close}>
          <ToldOnce
            label={words.linkLabel}
            text={words.linkText(open.name, instantWords(open.link.expiresAt))}
            value={open.link.address}
          />
        </Dialog>
      )}
      {open?.kind === "signOut" && (
        <Dialog title={words.signOutSure(open.person.shownName)} onClose={close}>
          <p className="dialogButtons">
            <button
              type="button"
              className="main"
              onClick={() => {
                const { id, shownName } = open.person;
                ask(pathOf`/api/people/${id}/sign-out`, { method: "POST" })
                  .then(() => say(words.signedOut(shownName)), trouble)
                  .finally(close);
              }}
            >
              {words.signOut}
            </button>
            <button type="button" onClick={close}>
              {common.cancel}
            </button>
          </p>
        </Dialog>
      )}
    </>
  );
}

const filters: readonly TableFilter<Person>[] = [
  {
    key: "role",
    title: words.roles,
    valuesOf: ({ roles }) => roles,
    wordsOf: (role) => words.role[role as keyof typeof words.role],
  },
  {
    key: "state",
    title: words.state,
    valuesOf: (person) => [personState(person)],
    wordsOf: (state) => words.states[state as keyof typeof words.states],
  },
];
const keyOf = ({ id }: Person) => id;
const textOf = ({ name, shownName }: Person) => `${name} ${shownName}`;

function PeopleTable({
  house: { crewsToLead, people },
  onChange,
  onLink,
  onSignOut,
}: {
  readonly house: House;
  readonly onChange: (person: Person) => void;
  readonly onLink: (person: Person) => void;
  readonly onSignOut: (person: Person) => void;
}) {
  const columns = useMemo<readonly Column<Person>[]>(
    () => [
      { key: "shownName", title: words.shownName, show: (one) => one.shownName, by: (one) => one.shownName },
      { key: "name", title: words.signInName, show: (one) => one.name, by: (one) => one.name },
      { key: "roles", title: words.roles, show: ({ roles }) => roles.map((role) => words.role[role]).join(", ") },
      { key: "crews", title: words.crews, show: (one) => ledCrews(one, crewsToLead).join(", ") },
      { key: "state", title: words.state, show: (one) => words.states[personState(one)], by: personState },
    ],
    [crewsToLead],
  );
  return (
    <DataTable
      name="people"
      caption={words.caption}
      rows={people}
      keyOf={keyOf}
      columns={columns}
      filters={filters}
      textOf={textOf}
      actions={(person) => (
        <>
          <PersonButton person={person} onPress={onChange}>
            {words.change}
          </PersonButton>{" "}
          {person.active && (
            <>
              <PersonButton person={person} onPress={onLink}>
                {words.newLink}
              </PersonButton>{" "}
              <PersonButton person={person} onPress={onSignOut}>
                {words.signOut}
              </PersonButton>
            </>
          )}
        </>
      )}
    />
  );
}

/** Named with its person, so that one button in a list of them is told from the next. */
function PersonButton({
  children,
  onPress,
  person,
}: {
  readonly person: Person;
  readonly onPress: (person: Person) => void;
  readonly children: string;
}) {
  return (
    <button type="button" onClick={() => onPress(person)}>
      {children}
      <span className="visuallyHidden">: {person.shownName}</span>
    </button>
  );
}
