const written = (date: string, options: Intl.DateTimeFormatOptions) =>
  // Bare dates are read as UTC and written as UTC: they have no time zone.
  new Date(`${date}T00:00:00Z`).toLocaleDateString("en-GB", { timeZone: "UTC", ...options });

/** `Monday 14 June` of an ISO date. */
export const dayWords = (date: string): string =>
  `${written(date, { weekday: "long" })} ${written(date, { day: "numeric", month: "long" })}`;

/** `Mon 14 Jun`. */
export const shortDayWords = (date: string): string =>
  `${written(date, { weekday: "short" })} ${written(date, { day: "numeric", month: "short" })}`;

export const daysBetweenDates = (from: string, to: string): number => (Date.parse(to) - Date.parse(from)) / 86_400_000;
