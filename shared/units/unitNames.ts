/** Units by the last part of a property's name, longest first where one ends another. */
const unitOfEnding: readonly (readonly [ending: string, unit: string])[] = [
  ["CentsPerHaDay", "cents per ha and day"],
  ["CentsPerHa", "cents per ha"],
  ["CentsPerKm", "cents per km"],
  ["CentsPerHour", "cents per h"],
  ["CentsPerYear", "cents per year"],
  ["Cents", "cents"],
  ["HoursPerDay", "h per day"],
  ["HoursPerWeek", "h per 7 days"],
  ["Hours", "h"],
  ["KgPerMin", "kg/min"],
  ["KgPerL", "kg/L"],
  ["LPerMin", "L/min"],
  ["LPerHa", "L/ha"],
  ["PerHa", "L/ha or kg/ha"],
  ["HaPerWeek", "ha per 7 days"],
  ["Days", "days"],
  ["Kph", "km/h"],
  ["Mps", "m/s"],
  ["Min", "min"],
  ["Pct", "%"],
  ["Frac", "share"],
  ["Deg", "°"],
  ["Kw", "kW"],
  ["Kg", "kg"],
  ["Ha", "ha"],
  ["Km", "km"],
  ["Um", "µm"],
  ["Mm", "mm"],
  ["M", "m"],
  ["L", "L"],
  ["S", "s"],
  ["C", "°C"],
];

/** Whether a name ends in a unit: the unit is all of it, or stands as a word of its own at the end. */
function endsIn(name: string, ending: string): boolean {
  if (name === ending.toLowerCase()) return true;
  return name.endsWith(ending) && /[a-z]/.test(name.charAt(name.length - ending.length - 1));
}

/** The unit that a property's name carries; none for counts, factors and what is no quantity. */
export function unitOf(name: string): string | undefined {
  return unitOfEnding.find(([ending]) => endsIn(name, ending))?.[1];
}
