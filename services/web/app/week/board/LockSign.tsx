/** A padlock: what it stands on stays as it is when the week is planned again. */
export function LockSign() {
  return (
    <svg className="lockSign" width="9" height="10" aria-hidden="true">
      <path className="lockBow" d="M2.5 5V3A2 2 0 0 1 6.5 3V5" />
      <path className="lockBody" d="M0.5 4.5H8.5V10H0.5Z" />
    </svg>
  );
}
