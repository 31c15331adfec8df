type Key = string;

/** Where an arrow key leads from what has the focus: along the row, or to what stands nearest in the next row that has something. Null: the key means nothing here. */
export function nextPlace(board: HTMLElement, from: EventTarget, key: Key): HTMLElement | null {
  if (!(from instanceof HTMLElement) || from.dataset.row === undefined) return null;
  const places = [...board.querySelectorAll<HTMLElement>("[data-row]")];
  const found = nextOf(
    places.map(({ dataset }) => ({ row: Number(dataset.row), px: Number(dataset.px) })),
    places.indexOf(from),
    key,
  );
  return found === null ? null : places[found]!;
}

interface Place {
  readonly row: number;
  readonly px: number;
}

export function nextOf(places: readonly Place[], at: number, key: Key): number | null {
  const own = places[at]!;
  const inRow = (row: number) =>
    places.flatMap((place, index) => (place.row === row ? [index] : [])).sort((a, b) => places[a]!.px - places[b]!.px);
  const along = inRow(own.row);
  switch (key) {
    case "ArrowRight":
      return along[along.indexOf(at) + 1] ?? null;
    case "ArrowLeft":
      return along[along.indexOf(at) - 1] ?? null;
    case "Home":
      return along[0]!;
    case "End":
      return along.at(-1)!;
    case "ArrowDown":
    case "ArrowUp": {
      const rows = [...new Set(places.map(({ row }) => row))].sort((a, b) => a - b);
      const row = rows[rows.indexOf(own.row) + (key === "ArrowDown" ? 1 : -1)];
      if (row === undefined) return null;
      const distance = (index: number) => Math.abs(places[index]!.px - own.px);
      return inRow(row).reduce((best, index) => (distance(index) < distance(best) ? index : best));
    }
    default:
      return null;
  }
}
