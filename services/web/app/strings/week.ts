export const weekWords = {
  title: (operation: string) => `The week of ${operation}`,
  board: "The week, crew by crew",
  chosen: "What is chosen",
  noPlan: "There is no plan of this week yet. Ask for one above.",
} as const;
