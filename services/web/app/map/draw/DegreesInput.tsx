import { useEffect, useState } from "react";

/** About a metre to the north: what an arrow key moves a corner by. */
const stepDeg = 0.00001;

/** An angle in degrees. What is typed is taken as soon as it is an angle; what is none is put back when the box is left. */
export function DegreesInput({
  label,
  mostDeg,
  onChange,
  valueDeg,
}: {
  readonly label: string;
  readonly mostDeg: 90 | 180;
  readonly valueDeg: number;
  readonly onChange: (angleDeg: number) => void;
}) {
  const [text, setText] = useState(String(valueDeg));
  useEffect(
    () => setText((typed) => (typed !== "" && Number(typed) === valueDeg ? typed : String(valueDeg))),
    [valueDeg],
  );
  return (
    <input
      type="number"
      aria-label={label}
      step={stepDeg}
      min={-mostDeg}
      max={mostDeg}
      value={text}
      onChange={({ target }) => {
        setText(target.value);
        const angleDeg = Number(target.value);
        if (target.value !== "" && Math.abs(angleDeg) <= mostDeg) onChange(angleDeg);
      }}
      onBlur={() => setText(String(valueDeg))}
    />
  );
}
