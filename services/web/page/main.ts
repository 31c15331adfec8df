import type { PlanProgress, PlanRequest } from "../../../shared/contracts/planRequests.ts";
import type { SessionFacts } from "../../../shared/contracts/session.ts";
import { gapWords } from "../../../shared/plan/proof.ts";
import { hectares } from "../../../shared/plan/words.ts";
import {
  cancelPlan,
  fetchOperations,
  fetchPlanRequest,
  fetchPlanRequests,
  fetchSession,
  fetchSheet,
  fetchWeek,
  followPlan,
  NoAnswer,
  openCrewLink,
  Refusal,
  requestPlan,
  SignedOut,
  signOut,
} from "./api.ts";
import { byId, el } from "./dom.ts";
import { addressOf, isLink, type LinkPlace, type Place, placeOf } from "./place.ts";
import { sheetPage } from "./sheetPage.ts";
import { changePasswordPage, firstStartPage, setPasswordPage, signInPage } from "./signInPage.ts";
import { weekPage } from "./weekPage.ts";

const main = byId("main", HTMLElement);
const message = byId("message", HTMLElement);
const form = byId("planForm", HTMLFormElement);
const operationChoice = byId("operation", HTMLSelectElement);
const secondsChoice = byId("seconds", HTMLSelectElement);
const makePlan = byId("makePlan", HTMLButtonElement);
const stopPlan = byId("stopPlan", HTMLButtonElement);
const planning = byId("planning", HTMLElement);
const planningBar = byId("planningBar", HTMLProgressElement);
const planningWords = byId("planningWords", HTMLElement);
const who = byId("who", HTMLElement);

/** The request that the page follows, or null when none runs. */
let followed: string | null = null;

function say(words: string, isBad: boolean): void {
  message.textContent = words;
  message.classList.toggle("bad", isBad);
}

function sayWhatFailed(error: unknown): void {
  main.querySelector("#reading")?.remove();
  if (error instanceof SignedOut && main.querySelector(".signIn") === null) {
    showSignIn();
    say("You have been signed out. Sign in again.", true);
  } else if (error instanceof Refusal) say(error.message, true);
  else if (error instanceof NoAnswer) sayNoAnswer();
  else {
    say("The page has failed. Load it again.", true);
    throw error;
  }
}

function sayNoAnswer(): void {
  const isEmpty = main.querySelector(".week, .sheet") === null;
  say(`The server does not answer. ${isEmpty ? "Load the page again later." : "What is shown may be old."}`, true);
}

/** A form that begins a session, in place of everything else; then the page begins again. */
function showForm(page: (follow: (work: Promise<unknown>) => void) => HTMLElement, after: string): void {
  form.hidden = true;
  who.hidden = true;
  const follow = (work: Promise<unknown>) => {
    say("", false);
    work
      .then(() => {
        history.replaceState(null, "", after);
        return begin();
      })
      .catch(sayWhatFailed);
  };
  main.replaceChildren(page(follow));
  main.querySelector<HTMLElement>("h2")?.focus();
}

/** Whoever has come for a plan is shown it afterwards. */
const showSignIn = () => showForm(signInPage, location.hash === "" ? "#" : location.hash);

function showWho({ kind, name }: SessionFacts): void {
  const change = el("button", { type: "button" }, "Change password");
  change.addEventListener("click", () => showForm(changePasswordPage, "#"));
  const leave = el("button", { type: "button" }, "Sign out");
  leave.addEventListener("click", () => {
    signOut()
      .then(() => location.assign("/"))
      .catch(sayWhatFailed);
  });
  who.replaceChildren(el("span", {}, name), ...(kind === "person" ? [change] : []), leave);
  who.hidden = false;
}

async function show(place: Place): Promise<void> {
  if (place.kind === "start") {
    await showLatest(operationChoice.value);
    return;
  }
  if (isLink(place)) {
    await openLink(place);
    return;
  }
  const isSheet = place.kind === "sheet";
  const page = isSheet
    ? sheetPage(
        await fetchSheet(place.planId, place.crewId, place.date),
        addressOf({ kind: "week", planId: place.planId }),
      )
    : await weekOf(place.planId);
  main.replaceChildren(page);
  document.body.classList.toggle("reading", isSheet);
  if (isSheet) {
    lastSheet = `${place.crewId} ${place.date}`;
    window.scrollTo(0, 0);
    page.querySelector<HTMLElement>("#sheetTitle")?.focus();
  } else if (lastSheet !== null) {
    page.querySelector<HTMLElement>(`[data-crew-day="${CSS.escape(lastSheet)}"]`)?.focus();
    lastSheet = null;
  }
}

async function weekOf(planId: string): Promise<HTMLElement> {
  const [week, { endedAt }] = await Promise.all([fetchWeek(planId), fetchPlanRequest(planId)]);
  return weekPage(week, endedAt === null ? "" : `Plan of ${instantWords(endedAt, week.timeZone)}. `, (crewId, date) =>
    addressOf({ kind: "sheet", planId, crewId, date }),
  );
}

/** `Mon 14 June, 05:02` by the clocks of the operation. */
function instantWords(iso: string, timeZone: string): string {
  return new Intl.DateTimeFormat("en-GB", {
    timeZone,
    weekday: "short",
    day: "numeric",
    month: "long",
    hour: "2-digit",
    minute: "2-digit",
  }).format(new Date(iso));
}

/** The sheet that was read last, so that going back lands on its row. */
let lastSheet: string | null = null;

async function showLatest(operationId: string): Promise<void> {
  if (operationId === "") {
    main.replaceChildren(
      el(
        "p",
        { class: "empty" },
        "Nothing is stored yet. Import an operation, its folder in place of FOLDER and a token of yours in place of TOKEN:",
      ),
      el("pre", {}, `CALMHOUR_TOKEN=TOKEN npm run -s calmhour -- import FOLDER --server ${location.origin}`),
      el("p", { class: "empty" }, "Then load this page again and make a plan."),
    );
    return;
  }
  const requests = await fetchPlanRequests(operationId);
  const running = requests.find(({ status }) => status === "queued" || status === "running");
  const latest = requests.find(({ planId }) => planId !== null);
  if (running !== undefined) void follow(running).catch(sayWhatFailed);
  if (latest?.planId) location.replace(addressOf({ kind: "week", planId: latest.planId }));
  else if (running === undefined) {
    main.replaceChildren(el("p", { class: "empty" }, "No plan yet for this operation. Make one above."));
  }
}

async function follow(request: PlanRequest): Promise<void> {
  if (followed === request.id) return;
  followed = request.id;
  showPlanning(request.progress, request.status);
  try {
    const ended = await followPlan(request.id, (progress) => showPlanning(progress, "running"), showSilence);
    if (ended.planId !== null) {
      showFinished(
        ended.planId,
        ended.status === "cancelled" ? "Stopped; this is the best plan so far." : "The plan is ready.",
      );
    } else {
      say(ended.failure?.message ?? "Planning was stopped before there was a plan.", true);
    }
  } finally {
    followed = null;
    planning.hidden = true;
    stopPlan.hidden = true;
    makePlan.disabled = false;
  }
}

/** Nobody who reads a sheet is taken away from it. */
function showFinished(planId: string, words: string): void {
  const address = addressOf({ kind: "week", planId });
  say(words, false);
  if (placeOf(location.hash).kind === "sheet") message.append(" ", el("a", { href: address }, "Show it"));
  else location.hash = address;
}

function showPlanning(progress: PlanProgress | null, status: PlanRequest["status"]): void {
  planning.hidden = false;
  stopPlan.hidden = false;
  makePlan.disabled = true;
  planningBar.value = progress?.share ?? 0;
  planningWords.textContent =
    progress === null
      ? status === "queued"
        ? "Waiting for a planner"
        : "Working out windows and work times"
      : `Planning, ${Math.round(progress.share * 100)} %: ${hectares(progress.servedHa)} ha so far${progress.gapFrac === undefined ? "" : `, ${gapWords(progress.gapFrac)}`}`;
}

/** The browser goes on trying by itself. */
function showSilence(): void {
  planningWords.textContent = "The server does not answer; trying again";
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  if (operationChoice.value === "") return;
  say("", false);
  const seed = 1;
  requestPlan(operationChoice.value, Number(secondsChoice.value), seed).then(follow).catch(sayWhatFailed);
});

stopPlan.addEventListener("click", () => {
  if (followed !== null) cancelPlan(followed).catch(sayWhatFailed);
});

operationChoice.addEventListener("change", () => {
  main.replaceChildren();
  showLatest(operationChoice.value).catch(sayWhatFailed);
});

window.addEventListener("hashchange", () => {
  show(placeOf(location.hash)).catch(sayWhatFailed);
});

byId("skip", HTMLAnchorElement).addEventListener("click", (event) => {
  event.preventDefault();
  main.focus();
});

async function openLink({ kind, link }: LinkPlace): Promise<void> {
  if (kind === "first") showForm((follow) => firstStartPage(link, follow), "#");
  else if (kind === "password") showForm((follow) => setPasswordPage(link, follow), "#");
  else {
    await openCrewLink(link);
    history.replaceState(null, "", "#");
    await begin();
  }
}

async function begin(): Promise<void> {
  const place = placeOf(location.hash);
  if (isLink(place)) return openLink(place);
  const session = await fetchSession();
  if (session === null) return showSignIn();
  showWho(session);
  if (!session.roles.some((role) => role === "dispatcher" || role === "owner")) {
    main.replaceChildren(
      el("p", { class: "empty" }, "You are signed in. The plan of the week is for dispatchers and owners."),
    );
    return;
  }
  const operations = await fetchOperations();
  operationChoice.replaceChildren(...operations.map(({ id, name }) => el("option", { value: id }, name)));
  form.hidden = operations.length === 0;
  // A plan has the id of the request that it came of.
  if (place.kind !== "start") operationChoice.value = (await fetchPlanRequest(place.planId)).operationId;
  await show(place);
}

begin().catch(sayWhatFailed);
