import { useRef, useState } from "react";
import { fileWords as words } from "../../strings/files.ts";
import { type DroppedFiles, readDropped } from "./dropped.ts";
import "./files.css";

/** Where files or a folder are dropped or chosen. */
export function DropArea({ onDropped }: { readonly onDropped: (dropped: DroppedFiles) => void }) {
  const files = useRef<HTMLInputElement>(null);
  const folder = useRef<HTMLInputElement>(null);
  const [isOver, setIsOver] = useState(false);
  const take = (given: Promise<readonly File[]>) => {
    given.then(readDropped).then((dropped) => {
      if (Object.keys(dropped.texts).length + dropped.faults.length > 0) onDropped(dropped);
    });
  };
  const chosen = (input: HTMLInputElement) => {
    take(Promise.resolve([...(input.files ?? [])]));
    input.value = "";
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: what can be dropped here can be chosen by the buttons.
    <div
      className={isOver ? "dropArea over" : "dropArea"}
      onDragOver={(event) => {
        event.preventDefault();
        setIsOver(true);
      }}
      onDragLeave={() => setIsOver(false)}
      onDrop={(event) => {
        event.preventDefault();
        setIsOver(false);
        take(filesIn(event.dataTransfer));
      }}
    >
      <p>{words.drop}</p>
      <p className="buttons">
        <button type="button" onClick={() => files.current?.click()}>
          {words.choose}
        </button>
        <button type="button" onClick={() => folder.current?.click()}>
          {words.chooseFolder}
        </button>
      </p>
      <input
        ref={files}
        type="file"
        multiple
        hidden
        aria-label={words.choose}
        accept=".csv,.json,.geojson"
        onChange={({ target }) => chosen(target)}
      />
      <input
        ref={(input) => {
          folder.current = input;
          // React has no property for it.
          input?.setAttribute("webkitdirectory", "");
        }}
        type="file"
        hidden
        aria-label={words.chooseFolder}
        onChange={({ target }) => chosen(target)}
      />
    </div>
  );
}

/** Files, and those that lie right in a folder. */
async function filesIn(transfer: DataTransfer): Promise<readonly File[]> {
  // Read at once: after the event nothing is left of it.
  const entries = [...transfer.items].map((item) => ({ entry: item.webkitGetAsEntry(), file: item.getAsFile() }));
  const files = entries.map(async ({ entry, file }) =>
    entry?.isDirectory ? filesOf(entry as FileSystemDirectoryEntry) : file === null ? [] : [file],
  );
  return (await Promise.all(files)).flat();
}

async function filesOf(folder: FileSystemDirectoryEntry): Promise<readonly File[]> {
  const reader = folder.createReader();
  const found: FileSystemEntry[] = [];
  // A reader gives a hundred at a time.
  for (;;) {
    const more = await new Promise<FileSystemEntry[]>((resolve, reject) => reader.readEntries(resolve, reject));
    if (more.length === 0) break;
    found.push(...more);
  }
  const files = found.filter((entry): entry is FileSystemFileEntry => entry.isFile);
  return Promise.all(files.map((entry) => new Promise<File>((resolve, reject) => entry.file(resolve, reject))));
}
