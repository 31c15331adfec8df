/** Room that runs share. */
export interface Places {
  /** Begins at once or as soon as fewer than so many others are in, and no others come in beyond that many while it is; in the order in which they came. The returned function leaves, or waits no longer. */
  enter(most: number, begin: () => void): () => void;
}

interface Guest {
  readonly most: number;
  readonly begin: () => void;
}

export function createPlaces(): Places {
  const inside = new Set<Guest>();
  const waiting = new Set<Guest>();
  const letIn = () => {
    for (const guest of waiting) {
      if (inside.size >= Math.min(guest.most, ...[...inside].map(({ most }) => most))) return;
      waiting.delete(guest);
      inside.add(guest);
      guest.begin();
    }
  };
  return {
    enter(most, begin) {
      const guest: Guest = { most, begin };
      waiting.add(guest);
      letIn();
      return () => {
        waiting.delete(guest);
        inside.delete(guest);
        letIn();
      };
    },
  };
}
