const reports = (count: number) => (count === 1 ? "1 report" : `${count} reports`);

export const offlineWords = {
  newBuild: "A newer version of these screens is ready. What you have reported is kept.",
  takeNewBuild: "Use it now",
  waitSignedOut: (count: number) =>
    `${reports(count)} on this phone ${count === 1 ? "has" : "have"} not been sent. Nothing is lost: open the crew's link again or sign in, and they go by themselves.`,
  leaveTitle: "Not everything has been sent",
  leaveText: (count: number) =>
    `${reports(count)} on this phone ${count === 1 ? "has" : "have"} not reached the server. They stay on this phone and go when somebody of the crew signs in here again.`,
  leave: "Sign out all the same",
  stay: "Stay and send",
} as const;
