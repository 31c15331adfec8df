import { useState } from "react";
import { drawWords } from "../../strings/draw.ts";
import type { AreaInFile } from "./areasInFile.ts";
import { readAreas } from "./readAreas.ts";

/** Takes the ground from a file; where the file has several somebody chooses. */
export function TakeFromFile({ onTake }: { readonly onTake: (area: AreaInFile) => void }) {
  const [areas, setAreas] = useState<readonly AreaInFile[]>([]);
  const [chosen, setChosen] = useState(0);
  const [words, setWords] = useState<{ readonly text: string; readonly isBad: boolean } | null>(null);
  const nameOf = (area: AreaInFile, at: number) => area.name ?? drawWords.unnamed(at + 1);
  const take = (area: AreaInFile, at: number) => {
    setAreas([]);
    setWords({ text: drawWords.taken(nameOf(area, at)), isBad: false });
    onTake(area);
  };
  const read = async (file: Blob) => {
    setAreas([]);
    setChosen(0);
    const found = await readAreas(file);
    if (!found.ok) return setWords({ text: found.words, isBad: true });
    setWords(null);
    if (found.areas.length === 1) take(found.areas[0]!, 0);
    else setAreas(found.areas);
  };
  return (
    <div className="takeFromFile">
      <label>
        {drawWords.upload}
        <input
          type="file"
          accept=".geojson,.json,.kml"
          onChange={({ target }) => {
            const [file] = target.files ?? [];
            if (file) void read(file);
            // The same file can be chosen again after it was mended.
            target.value = "";
          }}
        />
      </label>
      {areas.length > 0 && (
        <p>
          <label>
            {drawWords.several(areas.length)}
            <select value={chosen} onChange={({ target }) => setChosen(Number(target.value))}>
              {areas.map((area, at) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: several may have one name.
                <option key={at} value={at}>
                  {nameOf(area, at)}
                </option>
              ))}
            </select>
          </label>
          <button type="button" onClick={() => take(areas[chosen]!, chosen)}>
            {drawWords.take}
          </button>
        </p>
      )}
      {words && (
        <p className={words.isBad ? "failure" : "quiet"} role={words.isBad ? "alert" : "status"}>
          {words.text}
        </p>
      )}
    </div>
  );
}
