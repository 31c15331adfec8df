import { type ReactNode, useEffect, useId, useRef, useState } from "react";
import type { SessionFacts } from "../../../../shared/contracts/session.ts";
import { changePassword, makeFirstPerson, setPassword, signIn } from "../api/session.ts";
import { say } from "../kit/Say.tsx";
import { Failure } from "../kit/states.tsx";
import { sessionWords as words } from "../strings/session.ts";

interface Begins {
  readonly onBegun: (session: SessionFacts) => void;
}

export function SignIn({ onBegun }: Begins) {
  const [name, setName] = useState("");
  const [password, setPasswordText] = useState("");
  return (
    <SessionForm title={words.signIn} button={words.signIn} ask={() => signIn(name, password)} onBegun={onBegun}>
      <Field label={words.name} autoComplete="username" value={name} onChange={setName} />
      <Field
        label={words.password}
        autoComplete="current-password"
        isSecret
        value={password}
        onChange={setPasswordText}
      />
    </SessionForm>
  );
}

export function FirstStart({ link, onBegun }: Begins & { readonly link: string }) {
  const [shownName, setShownName] = useState("");
  const [name, setName] = useState("");
  const [password, setPasswordText] = useState("");
  return (
    <SessionForm
      title={words.firstTitle}
      text={words.firstText}
      button={words.begin}
      ask={() => makeFirstPerson(link, name, shownName, password)}
      onBegun={onBegun}
    >
      <Field
        label={words.yourName}
        hint={words.yourNameHint}
        autoComplete="name"
        value={shownName}
        onChange={setShownName}
      />
      <Field
        label={words.signInName}
        hint={words.signInNameHint}
        autoComplete="username"
        value={name}
        onChange={setName}
      />
      <NewPassword label={words.password} value={password} onChange={setPasswordText} />
    </SessionForm>
  );
}

export function SetPassword({ link, onBegun }: Begins & { readonly link: string }) {
  const [password, setPasswordText] = useState("");
  return (
    <SessionForm title={words.setTitle} button={words.set} ask={() => setPassword(link, password)} onBegun={onBegun}>
      <NewPassword label={words.newPassword} value={password} onChange={setPasswordText} />
    </SessionForm>
  );
}

export function ChangePassword({ onBegun }: Begins) {
  const [current, setCurrent] = useState("");
  const [password, setPasswordText] = useState("");
  return (
    <SessionForm
      text={words.changeText}
      button={words.change}
      ask={() => changePassword(current, password)}
      onBegun={onBegun}
    >
      <Field
        label={words.presentPassword}
        autoComplete="current-password"
        isSecret
        value={current}
        onChange={setCurrent}
      />
      <NewPassword label={words.newPassword} value={password} onChange={setPasswordText} />
    </SessionForm>
  );
}

function SessionForm({
  ask,
  button,
  children,
  onBegun,
  text,
  title,
}: Begins & {
  readonly title?: string;
  readonly text?: string;
  readonly button: string;
  readonly ask: () => Promise<SessionFacts>;
  readonly children: ReactNode;
}) {
  const [error, setError] = useState<Error | null>(null);
  const [isBusy, setIsBusy] = useState(false);
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  return (
    <form
      className="sessionForm"
      onSubmit={(event) => {
        event.preventDefault();
        say("");
        setError(null);
        setIsBusy(true);
        ask()
          .then(onBegun, setError)
          .finally(() => setIsBusy(false));
      }}
    >
      {title && (
        <h1 ref={heading} tabIndex={-1}>
          {title}
        </h1>
      )}
      {text && <p>{text}</p>}
      {children}
      {error && <Failure error={error} />}
      <button type="submit" className="main" disabled={isBusy}>
        {button}
      </button>
    </form>
  );
}

interface Input {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
}

const NewPassword = (input: Input) => <Field {...input} hint={words.newHint} autoComplete="new-password" isSecret />;

function Field({
  autoComplete,
  hint,
  isSecret = false,
  label,
  onChange,
  value,
}: Input & { readonly autoComplete: string; readonly hint?: string; readonly isSecret?: boolean }) {
  const hintId = useId();
  return (
    <label>
      {label}
      <input
        required
        type={isSecret ? "password" : "text"}
        autoComplete={autoComplete}
        autoCapitalize="none"
        spellCheck={false}
        value={value}
        aria-describedby={hint ? hintId : undefined}
        onChange={({ target }) => onChange(target.value)}
      />
      {hint && <small id={hintId}>{hint}</small>}
    </label>
  );
}
