import type { Random } from "./random.ts";

/** Invented names; any likeness to people or places is chance. */
const givenNames = [
  "Alda",
  "Béla",
  "Ciro",
  "Dária",
  "Edo",
  "Fíona",
  "Goran",
  "Hélia",
  "Ivo",
  "Jana",
  "Koldo",
  "Lía",
  "Mauro",
  "Núria",
  "Osk",
  "Pia",
  "Quim",
  "Rosa",
  "Sönke",
  "Tàrik",
  "Urra",
  "Vera",
  "Xènia",
  "Zoë",
];
const familyNames = [
  "Abrazal",
  "Belmirón",
  "Castroñeda",
  "Dorvall",
  "Esquirel",
  "Folgarés",
  "Guixerola",
  "Hortavella",
  "Iribel",
  "Josquella",
  "Lanzuela-Ordavés",
  "Mirallós",
  "Navascor",
  "Olivastre",
  "Peñalbeda",
  "Quintarol",
  "Roquetalta",
  "Sabuquel",
  "Tresmoral",
  "Urdaniz-Belloc",
  "Valdespí",
  "Zorraquil",
];
const fieldFirst = [
  "Long",
  "Lower",
  "Upper",
  "Old",
  "Stony",
  "Mill",
  "Heron's",
  "Chapel",
  "Ferry",
  "Red",
  "North",
  "South",
  "Dry",
  "Willow",
  "Poplar",
  "Olive",
  "Shepherd's",
  "Weir",
  "Sandy",
  "Twin",
  "Hollow",
  "Fountain",
  "Cañada",
  "Doña Alda's",
  "Seven Stones",
];
const fieldSecond = [
  "Meadow",
  "Bend",
  "Piece",
  "Ground",
  "Acre",
  "Terrace",
  "Flat",
  "Corner",
  "Bank",
  "Strip",
  "Garden",
  "Common",
  "Slope",
  "Island",
  "Leap",
  "Share",
];
const farmKinds = ["Finca", "Masía", "Torre", "Casa", "Heredad", "Estate", "Cooperativa de regantes"];

export function personName(random: Random): string {
  return `${random.pick(givenNames)} ${random.pick(familyNames)}`;
}

export function growerName(random: Random): string {
  return `${random.pick(farmKinds)} ${random.pick(familyNames)}`;
}

/** Every name once, in an order of chance. */
export function fieldNames(random: Random): string[] {
  const names = fieldFirst.flatMap((first) => fieldSecond.map((second) => `${first} ${second}`));
  for (let last = names.length - 1; last > 0; last--) {
    const other = random.whole(0, last);
    [names[last], names[other]] = [names[other]!, names[last]!];
  }
  return names;
}
