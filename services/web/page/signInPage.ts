import { passwordLeastCharacters } from "../../../shared/contracts/people.ts";
import { changePassword, makeFirstPerson, setPassword, signIn } from "./api.ts";
import { el } from "./dom.ts";

/** What came of a form: its promise is the page's to follow. */
type Follow = (work: Promise<unknown>) => void;

const newHint = `At least ${passwordLeastCharacters} characters; a few words are easy to keep in mind.`;

export function signInPage(follow: Follow): HTMLElement {
  const name = field("Name", "username", "text");
  const password = field("Password", "current-password", "password");
  return form("Sign in", [], [name, password], "Sign in", () => follow(signIn(name.value(), password.value())));
}

export function firstStartPage(link: string, follow: Follow): HTMLElement {
  const shownName = field("Your name", "name", "text", "As others read it.");
  const name = field("Name to sign in with", "username", "text", "Letters and digits, without spaces.");
  const password = field("Password", "new-password", "password", newHint);
  return form(
    "First start",
    ["You will be administrator, dispatcher and owner. Others can be added later."],
    [shownName, name, password],
    "Begin",
    () => follow(makeFirstPerson(link, name.value(), shownName.value(), password.value())),
  );
}

export function setPasswordPage(link: string, follow: Follow): HTMLElement {
  const password = field("New password", "new-password", "password", newHint);
  return form("Choose a password", [], [password], "Set it and sign in", () =>
    follow(setPassword(link, password.value())),
  );
}

export function changePasswordPage(follow: Follow): HTMLElement {
  const current = field("Present password", "current-password", "password");
  const password = field("New password", "new-password", "password", newHint);
  return form(
    "Change your password",
    ["You will be signed out everywhere else."],
    [current, password],
    "Change it",
    () => follow(changePassword(current.value(), password.value())),
  );
}

interface Field {
  readonly label: HTMLElement;
  value(): string;
}

function field(words: string, autocomplete: string, type: "text" | "password", hint = ""): Field {
  const input = el("input", { type, autocomplete, required: "", autocapitalize: "none", spellcheck: "false" });
  return {
    label: el("label", {}, words, input, hint === "" ? null : el("small", {}, hint)),
    value: () => input.value,
  };
}

function form(
  title: string,
  words: readonly string[],
  fields: readonly Field[],
  button: string,
  onSubmit: () => void,
): HTMLElement {
  const made = el(
    "form",
    { class: "signIn" },
    el("h2", { tabindex: "-1" }, title),
    ...words.map((sentence) => el("p", {}, sentence)),
    ...fields.map(({ label }) => label),
    el("button", { type: "submit" }, button),
  );
  made.addEventListener("submit", (event) => {
    event.preventDefault();
    onSubmit();
  });
  return made;
}
