import { lazy, Suspense, useEffect, useMemo, useState } from "react";
import type { SessionFacts } from "../../../shared/contracts/session.ts";
import { NoAnswer, Refusal } from "./api/call.ts";
import { fetchSession, openCrewLink } from "./api/session.ts";
import { Guarded } from "./kit/Guarded.tsx";
import { Say, say } from "./kit/Say.tsx";
import { Empty, Failure } from "./kit/states.tsx";
import { Masthead } from "./Masthead.tsx";
import { isOfCrew, keepSession, keptSession, worksOffline } from "./offline/keptSession.ts";
import { addressOf, go, placeOf, useAddress } from "./place.ts";
import { roomNames, roomsOf } from "./rooms.ts";
import { FirstStart, SetPassword, SignIn } from "./session/forms.tsx";
import { whenSignedOut } from "./session/signedOut.ts";
import { common } from "./strings/common.ts";
import { sessionWords } from "./strings/session.ts";

/** Undefined: not known yet; null: nobody has signed in. */
type Session = SessionFacts | null | undefined;

const againAfterMs = 4_000;

const OfflineNotes = lazy(() => import("./offline/OfflineNotes.tsx"));

export function App() {
  const [session, setSession] = useState<Session>(undefined);
  const [error, setError] = useState<Error | null>(null);
  const [round, setRound] = useState(0);
  const address = useAddress();
  const place = useMemo(() => placeOf(address, roomNames), [address]);

  useEffect(() => {
    whenSignedOut(() => {
      setSession((before) => {
        if (before) say(sessionWords.signedOut, true);
        return null;
      });
      keepSession(null);
    });
  }, []);

  // biome-ignore lint/correctness/useExhaustiveDependencies: another round asks again.
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const begin = place.kind === "link" && place.of === "crew" ? openCrewLink(place.link) : fetchSession();
    begin.then(
      (facts) => {
        setSession(facts);
        keepSession(facts);
        setError(null);
        // A link is opened once and not left in the address for the next who looks.
        if (place.kind === "link" && place.of === "crew") go("#", true);
      },
      (failed: Error) => {
        const isAnswer = failed instanceof Refusal && failed.status < 500;
        // A crew's phone goes on with what it keeps, and says itself that there is no network.
        const kept = isAnswer || place.kind === "link" ? null : keptSession();
        setError(kept ? null : failed);
        if (isAnswer) setSession(null);
        else {
          if (kept) setSession((before) => before ?? kept);
          timer = setTimeout(() => setRound((one) => one + 1), againAfterMs);
        }
      },
    );
    return () => clearTimeout(timer);
  }, [round]);

  const onBegun = (facts: SessionFacts) => {
    say("");
    setError(null);
    setSession(facts);
    keepSession(facts);
    if (place.kind === "link") go("#", true);
  };
  const onSignedOut = () => {
    say("");
    setSession(null);
    keepSession(null);
    go("#", true);
  };

  const rooms = session ? roomsOf(session) : [];
  const room = rooms.find(({ name }) => place.kind === "room" && name === place.room) ?? rooms[0];
  useEffect(() => {
    document.title = room && session ? `${common.rooms[room.name]} · ${common.product}` : common.product;
  }, [room, session]);

  return (
    <>
      <button type="button" className="skip" onClick={() => document.getElementById("content")?.focus()}>
        {common.skip}
      </button>
      <Masthead
        rooms={rooms.map(({ name }) => ({ name, address: addressOf(name) }))}
        present={room?.name ?? null}
        session={session ?? null}
        onSignedOut={onSignedOut}
        onChanged={onBegun}
      />
      <Say />
      {session !== undefined && (isOfCrew(session) || worksOffline()) && (
        <Suspense fallback={null}>
          <OfflineNotes session={session} />
        </Suspense>
      )}
      <main id="content" tabIndex={-1}>
        {session === undefined && error !== null && <h1>{common.failed.title}</h1>}
        {error !== null && (
          <Failure
            error={error}
            onAgain={() => setRound((one) => one + 1)}
            words={session === undefined && error instanceof NoAnswer ? common.failed.noAnswerYet : undefined}
          />
        )}
        {session === undefined && error === null && <p className="empty">{common.loading}</p>}
        {place.kind === "link" && place.of === "first" && <FirstStart link={place.link} onBegun={onBegun} />}
        {place.kind === "link" && place.of === "password" && <SetPassword link={place.link} onBegun={onBegun} />}
        {place.kind !== "link" && session === null && <SignIn onBegun={onBegun} />}
        {place.kind !== "link" && session && room === undefined && <Empty>{common.noRoom}</Empty>}
        {place.kind !== "link" && session && room !== undefined && (
          <Guarded key={room.name}>
            <Suspense fallback={<p className="empty">{common.loading}</p>}>
              <room.Screen
                session={session}
                within={place.kind === "room" && place.room === room.name ? place.within : []}
              />
            </Suspense>
          </Guarded>
        )}
      </main>
    </>
  );
}
