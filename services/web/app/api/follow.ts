/** Follows a stream of events until the server says that it is done; the returned function stops following. */
export function follow<Progress>(
  path: string,
  {
    onDone,
    onProgress,
    onSilence,
  }: {
    readonly onProgress: (progress: Progress) => void;
    readonly onDone: () => void;
    /** The browser goes on trying by itself. */
    readonly onSilence: () => void;
  },
): () => void {
  const events = new EventSource(path);
  events.addEventListener("progress", (event) => onProgress(JSON.parse(event.data) as Progress));
  const end = () => {
    events.close();
    onDone();
  };
  events.addEventListener("done", end);
  // Only a closed stream is the end of it.
  events.addEventListener("error", () => {
    if (events.readyState === EventSource.CLOSED) end();
    else onSilence();
  });
  return () => events.close();
}
