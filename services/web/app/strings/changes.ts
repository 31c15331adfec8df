/** What was done, by the id of the call that did it. What is not here is told by its id in words. */
export const actionWords: Readonly<Record<string, string>> = {
  signIn: "Signed in",
  signOut: "Signed out",
  changePassword: "Changed the password",
  setPassword: "Set a password by a link",
  firstStart: "Began as the first person",
  openCrewLink: "Opened the link for a crew's phone",
  addPerson: "Added a person",
  changePerson: "Changed a person",
  endSessions: "Signed a person out everywhere",
  makePasswordLink: "Made a password link",
  makeToken: "Made a token",
  revokeToken: "Withdrew a token",
  revokeTokenOf: "Withdrew somebody's token",
  makeCrewLink: "Made a link for a crew's phone",
  revokeCrewLink: "Withdrew a link for a crew's phone",
  importOperation: "Imported an operation",
  importFiles: "Imported an operation from its files",
  replaceFiles: "Imported files of an operation anew",
  replaceOperation: "Replaced the operation",
  requestPlan: "Asked for a plan",
  requestReplan: "Asked to plan again",
  cancelPlanRequest: "Stopped a plan",
  discardPlan: "Threw a draft away",
  movePlan: "Moved stops by hand",
  lockCrewDay: "Locked a crew's day",
  unlockCrewDay: "Unlocked a crew's day",
  publishPlan: "Published a plan",
  addReports: "Reported from the field",
  changeApplicationRecord: "Put a record right",
  importCaseSet: "Stored a set of cases",
  studyCases: "Ran a set of cases",
  studyRemedies: "Asked what would help",
  studyBottlenecks: "Asked for the bottlenecks",
  cancelStudy: "Stopped a study",
  repeatDeadLetter: "Had failed work done again",
  dismissDeadLetter: "Laid failed work aside",
  import: "Imported an operation on the command line",
  resetPerson: "Made a password link beside the store",
};

const partWords: Readonly<Record<string, string>> = { put: "Stored", delete: "Removed" };

/** `putSensitivePlace`: stored the sensitive place. */
export function wordsOfAction(action: string): string {
  const known = actionWords[action];
  if (known !== undefined) return known;
  const [first = "", ...rest] = action.replace(/([A-Z])/g, " $1").split(" ");
  const thing = rest.join(" ").toLowerCase();
  const done = partWords[first];
  if (done !== undefined) return `${done} the ${thing}`;
  const words = [first, ...rest].join(" ").toLowerCase();
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}

export const changesWords = {
  title: "Changes",
  text: "Who changed what, newest first. Nothing here can be changed or removed.",
  who: "By whom",
  whoHint: "The whole name.",
  from: "From",
  show: "Show",
  caption: "What was changed",
  when: "When",
  what: "What",
  which: "Which",
  more: "Further back",
  first: "Newest again",
  empty: "Nothing was changed in this stretch.",
  kinds: { person: "", token: "by a token", crewLink: "by a crew's link", service: "the service itself" },
  details: "Details",
} as const;
