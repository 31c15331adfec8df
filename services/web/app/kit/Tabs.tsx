import "./table/table.css";

/** Parts of a room, each with an address of its own. */
export function Tabs({
  name,
  parts,
  present,
}: {
  readonly name: string;
  readonly parts: readonly { readonly key: string; readonly title: string; readonly address: string }[];
  readonly present: string;
}) {
  return (
    <nav className="tabs" aria-label={name}>
      {parts.map(({ address, key, title }) => (
        <a key={key} href={address} aria-current={key === present ? "page" : undefined}>
          {title}
        </a>
      ))}
    </nav>
  );
}
