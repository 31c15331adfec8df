interface AmountRow {
  readonly key: string;
  readonly name: string;
  /** Beside the name, in small letters. */
  readonly more?: string;
  readonly amount: string;
}

/** Things with how much of each; the amounts stand below each other and are never broken. */
export function AmountList({
  isInOrder = false,
  rows,
}: {
  readonly rows: readonly AmountRow[];
  readonly isInOrder?: boolean;
}) {
  const List = isInOrder ? "ol" : "ul";
  return (
    <List className="amounts">
      {rows.map(({ amount, key, more, name }) => (
        <li key={key}>
          <span>
            {name} {more && <small>{more}</small>}
          </span>
          <b>{amount}</b>
        </li>
      ))}
    </List>
  );
}
