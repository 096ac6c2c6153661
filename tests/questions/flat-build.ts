/** A build in short, as the held questions write it: one line a part, load, reading or person. */
import type { CheckRequest, PartInput, ValueInput, VehicleInput, VehicleReading } from '../../services/vehicle/index.ts';

const NAMES: Readonly<Record<string, string>> = {
  front_coilover: 'lift',
  rear_spring: 'lift',
  front_spring: 'spring lift',
  body_lift: 'body lift',
  coilover_spacer: 'top spacer',
  preload_spacer: 'preload spacer',
  wheel_spacer: 'wheel spacer',
  upper_arms: 'upper arms',
  differential_drop: 'diff drop',
  second_battery: 'second battery',
  front_bumper: 'front bumper',
  rear_bumper: 'rear bumper',
  brake_hose: 'brake hose',
  rear_dampers: 'rear dampers',
  roof_tent: 'roof tent',
  roof_rack: 'roof rack',
  bed_rack: 'bed rack',
  slider: 'sliders',
  skid_plate: 'skid plates',
  light_bar: 'light bar',
  tow_hitch: 'tow hitch',
  roof_cargo: 'load roof',
};
const LOADS: Readonly<Record<string, string>> = { 'load in the bed': 'bed', 'load in the cab': 'cab', 'weight on the hitch': 'tongue' };
/** In the order they are told. */
const TOLD = ['height_added', 'height', 'thickness', 'drop', 'line_pull', 'hub_centric', 'steel', 'mass'];

/** What the question added; of a vehicle given in full, not what was known of it. */
export function flatBuild(build: CheckRequest | undefined, given?: VehicleInput): string[] {
  if (!build) return [];
  const { vehicle, parts = [], load, use } = build;
  return [
    ...parts.map(flatPart),
    ...(vehicle.from === 'inline'
      ? (vehicle.fitted ?? [])
          .filter((part) => part.from === 'inline' && part.kind === 'tyre')
          .map((part) => `now ${attribute(part, 'designation')}`)
      : []),
    ...(vehicle.measured ?? []).filter((reading) => !(given?.measured ?? []).includes(reading)).flatMap(flatReading),
    ...(load?.items ?? []).map(({ name, mass }) => `load ${LOADS[name] ?? name} ${mass}`),
    ...(load?.occupants === undefined ? [] : [`${load.occupants} aboard`]),
    ...(use?.top_speed === undefined ? [] : [use.top_speed]),
  ];
}

function flatReading({ quantity, of, value }: VehicleReading): string[] {
  if (quantity === 'axle_ratio') return of === 'rear' ? [`gears ${bare(value)}`] : [];
  if (quantity === 'axle_ratio_gain') return [`gears up ${value}`];
  return [`${quantity === 'tyre_gap' ? 'gap' : 'cut'} ${of} ${value}`];
}

const attribute = (part: PartInput, name: string): ValueInput | undefined => (part.from === 'inline' ? part.attributes?.[name] : undefined);
const bare = (value: ValueInput | undefined): string => String(value ?? '').replace(/ ±.*/, '');

function flatPart(part: PartInput): string {
  if (part.from !== 'inline') return part.part;
  if (part.kind === 'axle_gears') return `regear ${bare(attribute(part, 'ratio'))}`;
  const { kind, at } = part;
  const place = at === undefined || at === 'all' ? '' : `${at} `;
  if (kind === 'tyre') return `tyre ${place}${bare(attribute(part, 'designation') ?? attribute(part, 'overall_diameter'))}`;
  if (kind === 'wheel') {
    const [offset, backspacing] = [attribute(part, 'offset'), attribute(part, 'backspacing')];
    const set =
      offset === undefined ? (backspacing === undefined ? '' : ` BS ${bare(backspacing)}`) : ` ET${bare(offset).replace(' mm', '')}`;
    const [bolts, circle, bore] = ['bolts', 'bolt_circle', 'bore'].map((each) => attribute(part, each));
    const hub = `${bolts === undefined ? '' : ` ${bolts}x${bare(circle).replace(' mm', '')}`}${bore === undefined ? '' : ` bore ${bore}`}`;
    return `wheel ${place}${bare(attribute(part, 'rim_diameter')).replace(' in', '')}x${bare(attribute(part, 'rim_width')).replace(' in', '')}${set}${hub}`;
  }
  const name = NAMES[kind] ?? kind.replaceAll('_', ' ');
  const told = TOLD.flatMap((each) => {
    const value = attribute(part, each);
    if (value === undefined) return [];
    return [each === 'steel' ? 'steel' : each === 'hub_centric' ? 'hub centric' : bare(value)];
  });
  const lead =
    name.endsWith('lift') && name !== 'body lift' ? `${at} ${name}` : name === 'wheel spacer' && at !== 'all' ? `wheel spacer ${at}` : name;
  return [lead, ...told].join(' ');
}
