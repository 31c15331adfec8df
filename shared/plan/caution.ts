/** Every sheet, every page and every list of windows carries this sentence. */
export const caution =
  "A planning aid: the label, local rules and the licensed applicator on site decide. " +
  "A measured wind, an inversion or a person in the area stops the work, whatever the plan says.";
