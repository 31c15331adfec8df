import { lazy, Suspense, useState } from "react";
import type { SessionFacts } from "../../../shared/contracts/session.ts";
import { signOut } from "./api/session.ts";
import { Dialog } from "./kit/Dialog.tsx";
import { say } from "./kit/Say.tsx";
import { errorWords } from "./kit/states.tsx";
import { keepLook, type Look, looks, useLook } from "./look/look.ts";
import { LeaveDialog } from "./offline/LeaveDialog.tsx";
import { countUnsent } from "./offline/outbox.ts";
import { phoneStore } from "./offline/phoneStore.ts";
import type { RoomName } from "./rooms.ts";
import { ChangePassword } from "./session/forms.tsx";
import { common } from "./strings/common.ts";
import { tokenWords } from "./strings/people.ts";
import { sessionWords } from "./strings/session.ts";
import { chooseUnits, type UnitSystem, unitSystems, useUnitSystem } from "./units/units.ts";

const Tokens = lazy(() => import("./people/Tokens.tsx"));

export function Masthead({
  onChanged,
  onSignedOut,
  present,
  rooms,
  session,
}: {
  readonly rooms: readonly { readonly name: RoomName; readonly address: string }[];
  readonly present: RoomName | null;
  readonly session: SessionFacts | null;
  readonly onSignedOut: () => void;
  readonly onChanged: (session: SessionFacts) => void;
}) {
  const [isChanging, setIsChanging] = useState(false);
  const [showsTokens, setShowsTokens] = useState(false);
  const [unsent, setUnsent] = useState(0);
  const leave = () => {
    setUnsent(0);
    signOut().then(onSignedOut, (error: Error) => say(errorWords(error), true));
  };
  const leaveUnlessUnsent = async () => {
    const count = await phoneStore().then(countUnsent, () => 0);
    if (count === 0) leave();
    else setUnsent(count);
  };
  return (
    <header className="masthead">
      <p className="name">{common.product}</p>
      {rooms.length > 1 && (
        <nav aria-label={common.menu}>
          {rooms.map(({ address, name }) => (
            <a key={name} href={address} aria-current={name === present ? "page" : undefined}>
              {common.rooms[name]}
            </a>
          ))}
        </nav>
      )}
      <details className="account">
        <summary>{session?.name ?? common.looks.title}</summary>
        <div>
          <LookChoice />
          <UnitChoice />
          {session?.kind === "person" && (
            <>
              <button type="button" onClick={() => setIsChanging(true)}>
                {sessionWords.changePassword}
              </button>
              <button type="button" onClick={() => setShowsTokens(true)}>
                {tokenWords.open}
              </button>
            </>
          )}
          {session && (
            <button type="button" onClick={() => void leaveUnlessUnsent()}>
              {sessionWords.signOut}
            </button>
          )}
        </div>
      </details>
      {showsTokens && (
        <Dialog title={tokenWords.title} onClose={() => setShowsTokens(false)}>
          <Suspense fallback={<p className="empty">{common.loading}</p>}>
            <Tokens />
          </Suspense>
        </Dialog>
      )}
      {unsent > 0 && <LeaveDialog unsent={unsent} onLeave={leave} onStay={() => setUnsent(0)} />}
      {isChanging && (
        <Dialog title={sessionWords.changeTitle} onClose={() => setIsChanging(false)}>
          <ChangePassword
            onBegun={(facts) => {
              setIsChanging(false);
              onChanged(facts);
            }}
          />
        </Dialog>
      )}
    </header>
  );
}

function LookChoice() {
  const look = useLook();
  return (
    <label>
      {common.looks.title}
      <select value={look} onChange={({ target }) => keepLook(target.value as Look)}>
        {looks.map((one) => (
          <option key={one} value={one}>
            {common.looks[one]}
          </option>
        ))}
      </select>
    </label>
  );
}

function UnitChoice() {
  const system = useUnitSystem();
  return (
    <label>
      {common.units.title}
      <select value={system} onChange={({ target }) => chooseUnits(target.value as UnitSystem)}>
        {unitSystems.map((one) => (
          <option key={one} value={one}>
            {common.units[one]}
          </option>
        ))}
      </select>
    </label>
  );
}
