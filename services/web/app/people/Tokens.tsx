import { useMemo, useState } from "react";
import type { Token } from "../../../../shared/contracts/tokens.ts";
import { get, pathOf, post, remove } from "../api/call.ts";
import { type Column, DataTable } from "../kit/DataTable.tsx";
import { instantWords } from "../kit/instants.ts";
import { say } from "../kit/Say.tsx";
import { Empty, errorWords, Failure, Shown } from "../kit/states.tsx";
import { ToldOnce } from "../kit/ToldOnce.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { peopleWords, tokenWords as words } from "../strings/people.ts";
import { tokenState } from "./tokenState.ts";
import "./people.css";

const fetchTokens = async (signal: AbortSignal) => (await get<{ tokens: Token[] }>("/api/tokens", signal)).tokens;
const keyOf = ({ id }: Token) => id;

/** One's own tokens: made, shown once, withdrawn. */
export default function Tokens() {
  const asked = useAsked(fetchTokens);
  const [secret, setSecret] = useState<string | null>(null);
  const columns = useMemo<readonly Column<Token>[]>(() => {
    const now = Date.now();
    return [
      { key: "name", title: words.name, show: (one) => one.name, by: (one) => one.name },
      { key: "roles", title: words.roles, show: rolesOf },
      { key: "ends", title: words.ends, show: (one) => instantWords(one.expiresAt), by: (one) => one.expiresAt },
      {
        key: "used",
        title: words.lastUsed,
        show: ({ lastUsedAt }) => (lastUsedAt === null ? words.never : instantWords(lastUsedAt)),
        by: (one) => one.lastUsedAt,
      },
      { key: "state", title: words.state, show: (one) => words[tokenState(one, now)] },
    ];
  }, []);
  const withdraw = ({ id, name }: Token) =>
    void remove(pathOf`/api/tokens/${id}`)
      .then(
        () => say(words.withdrawn1(name)),
        (error: Error) => say(errorWords(error), true),
      )
      .finally(asked.again);
  return (
    <>
      <p>{words.text}</p>
      {secret !== null && <ToldOnce label={words.secret} text={words.madeText} value={secret} />}
      <TokenForm
        onMade={(made) => {
          setSecret(made);
          asked.again();
        }}
      />
      <Shown asked={asked}>
        {(tokens) => (
          <DataTable
            name="tokens"
            caption={words.caption}
            rows={tokens}
            keyOf={keyOf}
            columns={columns}
            whenEmpty={<Empty>{words.empty}</Empty>}
            actions={(token) =>
              tokenState(token, Date.now()) === "valid" && (
                <button type="button" onClick={() => withdraw(token)}>
                  {words.withdraw}
                  <span className="visuallyHidden">: {token.name}</span>
                </button>
              )
            }
          />
        )}
      </Shown>
    </>
  );
}

function rolesOf({ readOnly, roles }: Token): string {
  const named = roles.map((role) => peopleWords.role[role]).join(", ");
  return readOnly ? `${named} (${words.readingOnly})` : named;
}

function TokenForm({ onMade }: { readonly onMade: (secret: string | null) => void }) {
  const [name, setName] = useState("");
  const [days, setDays] = useState("90");
  const [readOnly, setReadOnly] = useState(true);
  const [error, setError] = useState<Error | null>(null);
  return (
    <form
      className="tokenForm"
      onSubmit={(event) => {
        event.preventDefault();
        setError(null);
        post<{ secret: string | null }>("/api/tokens", { name, days: Number(days), readOnly }).then(({ secret }) => {
          setName("");
          onMade(secret);
        }, setError);
      }}
    >
      <label>
        {words.name}
        <input required maxLength={100} value={name} onChange={({ target }) => setName(target.value)} />
      </label>
      <label>
        {words.days}
        <input required type="number" min={1} max={366} value={days} onChange={({ target }) => setDays(target.value)} />
      </label>
      <label className="inline">
        <input type="checkbox" checked={readOnly} onChange={({ target }) => setReadOnly(target.checked)} />
        {words.readOnly}
      </label>
      {error && <Failure error={error} />}
      <button type="submit">{words.make}</button>
    </form>
  );
}
