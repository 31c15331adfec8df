import { lazy, Suspense, useEffect, useMemo, useRef, useState } from "react";
import { areaM2 } from "../../../../shared/geo/area.ts";
import { planeOf, toAreaXY } from "../../../../shared/geo/convert.ts";
import type { LonLat } from "../../../../shared/geo/plane.ts";
import type { AreaGeometry, Pad } from "../../../../shared/model/field.ts";
import type { Bounds } from "../../../../shared/plan/mapPlaces.ts";
import { haFromM2 } from "../../../../shared/units/units.ts";
import { drawWords } from "../strings/draw.ts";
import { mapWords } from "../strings/map.ts";
import { useUnits } from "../units/units.ts";
import { type Around, boundsToDraw } from "./draw/around.ts";
import { CornerRows } from "./draw/CornerRows.tsx";
import { PadRows } from "./draw/PadRows.tsx";
import type { Sketch, SketchRing } from "./draw/sketch.ts";
import * as sketching from "./draw/sketch.ts";
import { ringNames, sketchFaults } from "./draw/sketchFaults.ts";
import { layGeometry } from "./draw/sketchGeometry.ts";
import { back, beginSteps, forth, type Steps, step } from "./draw/steps.ts";
import { TakeFromFile } from "./draw/TakeFromFile.tsx";
import { MapGuard } from "./MapGuard.tsx";
import { middleDegOf, wrapped } from "./unwrap.ts";
import "./map.css";

const DrawLeaflet = lazy(() => import("./draw/DrawLeaflet.tsx"));

export interface DrawnField {
  /** As the fields resource takes it. Null: nothing is drawn yet, or what is drawn is no field (then the drawing says why). */
  readonly geometry: AreaGeometry | null;
  readonly pads: readonly Pad[];
}

export interface DrawFieldProps {
  /** What it begins with; what is drawn is kept inside, and begins anew when another value comes than was handed to `onChange`. */
  readonly value: DrawnField;
  readonly onChange: (value: DrawnField) => void;
  /** Other fields, to find one's way by. */
  readonly around?: readonly Around[];
}

const nobody: readonly Around[] = [];

/** Draws a field's ground and its pads. May be imported from anywhere: the map comes when it is shown. */
export function DrawField({ around = nobody, onChange, value }: DrawFieldProps) {
  const [steps, setSteps] = useState(() => beginSteps(sketching.sketchOf(value.geometry, value.pads)));
  const [ring, setRing] = useState(0);
  const [corner, setCorner] = useState<number | null>(null);
  const [addsByClick, setAddsByClick] = useState(value.geometry === null);
  const [fits, setFits] = useState(0);
  const sketch = steps.present;
  const drawn = useMemo(() => judged(sketch), [sketch]);
  const told = useRef(JSON.stringify(value));
  const valueText = JSON.stringify(value);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another value begins anew, the same told back does not.
  useEffect(() => {
    if (valueText === told.current) return;
    told.current = valueText;
    setSteps(beginSteps(sketching.sketchOf(value.geometry, value.pads)));
    setRing(0);
    setCorner(null);
    setFits((one) => one + 1);
  }, [valueText]);

  const change = (next: Steps<Sketch>) => {
    setSteps(next);
    if (next.present.rings.length <= ring) setRing(next.present.rings.length - 1);
    const after = judged(next.present).value;
    told.current = JSON.stringify(after);
    onChange(after);
  };
  /** `name`: of one that goes on with the step before, as typing does. */
  const draw = (next: Sketch, name: string | null = null) => change(step(steps, next, name));

  const units = useUnits();
  const names = ringNames(sketch);
  const { corners } = sketch.rings[ring] ?? sketch.rings[0]!;
  const bounds = boundsToDraw(sketch, around);
  const middle: LonLat = sketch.rings[0]!.corners[0] ?? middleOf(bounds);
  const add = (at: number, position: LonLat) => {
    draw(sketching.addCorner(sketch, ring, at, position));
    setCorner(at);
  };
  const begin = (kind: SketchRing["kind"]) => {
    draw(sketching.addRing(sketch, kind));
    setRing(sketch.rings.length);
    setCorner(null);
    setAddsByClick(true);
  };
  const movePad = (pad: number, position: LonLat, name: string | null = null) =>
    draw(sketching.movePad(sketch, pad, position), name);
  return (
    <fieldset className="drawField">
      <legend>{drawWords.title}</legend>
      <TakeFromFile
        onTake={({ geometry }) => {
          draw(sketching.sketchOf(geometry, sketch.pads));
          setRing(0);
          setCorner(null);
          setAddsByClick(false);
          setFits((one) => one + 1);
        }}
      />
      <p className="quiet">{addsByClick ? drawWords.hintClicks : drawWords.hintDrags}</p>
      <div className="mapChoices">
        <button type="button" aria-pressed={addsByClick} onClick={() => setAddsByClick(!addsByClick)}>
          {drawWords.clicksAdd}
        </button>
        <button type="button" onClick={() => begin("obstacle")}>
          {drawWords.addObstacle}
        </button>
        <button type="button" onClick={() => begin("outline")}>
          {drawWords.addPiece}
        </button>
        <button type="button" disabled={steps.past.length === 0} onClick={() => change(back(steps))}>
          {drawWords.undo}
        </button>
        <button type="button" disabled={steps.future.length === 0} onClick={() => change(forth(steps))}>
          {drawWords.redo}
        </button>
      </div>
      <MapGuard>
        <Suspense fallback={<p className="quiet">{mapWords.loading}</p>}>
          <DrawLeaflet
            sketch={sketch}
            ring={ring}
            corner={corner}
            addsByClick={addsByClick}
            around={around}
            bounds={bounds}
            fitKey={String(fits)}
            onAdd={add}
            onMove={(at, position) => {
              draw(sketching.moveCorner(sketch, ring, at, position));
              setCorner(at);
            }}
            onMovePad={movePad}
            onCorner={setCorner}
            onRing={setRing}
          />
        </Suspense>
      </MapGuard>
      <div role="status">
        <p>
          {drawn.areaHa === null
            ? drawWords.noArea(drawn.faults.length > 0)
            : drawWords.area(units.areaHa(drawn.areaHa))}
        </p>
        {drawn.faults.length > 0 && (
          <ul className="failure">
            {drawn.faults.map((fault) => (
              <li key={fault}>{fault}</li>
            ))}
          </ul>
        )}
      </div>
      {sketch.rings.length > 1 && (
        <p className="mapChoices">
          <label>
            {drawWords.which}
            <select
              value={ring}
              onChange={({ target }) => {
                setRing(Number(target.value));
                setCorner(null);
              }}
            >
              {names.map((name, at) => (
                <option key={name} value={at}>
                  {name}
                </option>
              ))}
            </select>
          </label>
          <button type="button" onClick={() => draw(sketching.removeRing(sketch, ring))}>
            {drawWords.removeRing(names[ring]!)}
          </button>
        </p>
      )}
      <CornerRows
        name={names[ring]!}
        corners={corners}
        corner={corner}
        onAdd={(at) => add(at, sketching.placeOfNew(corners, at, middle))}
        onCorner={setCorner}
        onMove={(at, position) => draw(sketching.moveCorner(sketch, ring, at, position), `corner ${ring} ${at}`)}
        onRemove={(at) => {
          draw(sketching.removeCorner(sketch, ring, at));
          setCorner(null);
        }}
      />
      <PadRows
        pads={sketch.pads}
        onAdd={() => draw(sketching.addPad(sketch, middle))}
        onMove={(at, position) => movePad(at, position, `pad ${at}`)}
        onRemove={(at) => draw(sketching.removePad(sketch, at))}
      />
    </fieldset>
  );
}

function judged(sketch: Sketch): {
  readonly value: DrawnField;
  readonly areaHa: number | null;
  readonly faults: readonly string[];
} {
  const laid = layGeometry(sketch);
  const faults = sketchFaults(sketch, laid);
  if (laid === null || faults.length > 0) return { value: { geometry: null, pads: sketch.pads }, areaHa: null, faults };
  const { geometry } = laid;
  const areaHa = haFromM2(areaM2(toAreaXY(planeOf(geometry), geometry)));
  return { value: { geometry, pads: sketch.pads }, areaHa, faults };
}

function middleOf(bounds: Bounds): LonLat {
  const [, south, , north] = bounds;
  return wrapped([middleDegOf(bounds), (south + north) / 2]);
}
