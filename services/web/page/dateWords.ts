const months = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
];

/** `Monday 14 June 2027` of an ISO date. */
export function dateWords({ date, weekday }: { readonly date: string; readonly weekday: string }): string {
  const [year, month, day] = date.split("-").map(Number);
  return `${weekday} ${day} ${months[month! - 1]} ${year}`;
}
