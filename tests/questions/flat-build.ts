/** A build in short, as the held questions write it: one line a part, load, reading or person. */
import type { CheckRequest, PartInput, ValueInput } from '../../services/vehicle/index.ts';

const NAMES: Readonly<Record<string, string>> = {
  front_coilover: 'lift',
  rear_spring: 'lift',
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

export function flatBuild(build: CheckRequest | undefined): string[] {
  if (!build) return [];
  const { vehicle, parts = [], load, use } = build;
  return [
    ...parts.map(flatPart),
    ...(vehicle.from === 'inline' ? (vehicle.fitted ?? []).map((part) => `now ${attribute(part, 'designation')}`) : []),
    ...(vehicle.measured ?? []).map(({ quantity, of, value }) => `${quantity === 'tyre_gap' ? 'gap' : 'cut'} ${of} ${value}`),
    ...(load?.items ?? []).map(({ name, mass }) => `load ${LOADS[name] ?? name} ${mass}`),
    ...(load?.occupants === undefined ? [] : [`${load.occupants} aboard`]),
    ...(use?.top_speed === undefined ? [] : [use.top_speed]),
  ];
}

const attribute = (part: PartInput, name: string): ValueInput | undefined => (part.from === 'inline' ? part.attributes?.[name] : undefined);
const bare = (value: ValueInput | undefined): string => String(value ?? '').replace(/ ±.*/, '');

function flatPart(part: PartInput): string {
  if (part.from !== 'inline') return part.part;
  const { kind, at } = part;
  const place = at === undefined || at === 'all' ? '' : `${at} `;
  if (kind === 'tyre') return `tyre ${place}${bare(attribute(part, 'designation') ?? attribute(part, 'overall_diameter'))}`;
  if (kind === 'wheel') {
    const [offset, backspacing] = [attribute(part, 'offset'), attribute(part, 'backspacing')];
    const set =
      offset === undefined ? (backspacing === undefined ? '' : ` BS ${bare(backspacing)}`) : ` ET${bare(offset).replace(' mm', '')}`;
    return `wheel ${place}${bare(attribute(part, 'rim_diameter')).replace(' in', '')}x${bare(attribute(part, 'rim_width')).replace(' in', '')}${set}`;
  }
  const name = NAMES[kind] ?? kind.replaceAll('_', ' ');
  const told = TOLD.flatMap((each) => {
    const value = attribute(part, each);
    if (value === undefined) return [];
    return [each === 'steel' ? 'steel' : each === 'hub_centric' ? 'hub centric' : bare(value)];
  });
  const lead = name === 'lift' ? `${at} lift` : name === 'wheel spacer' && at !== 'all' ? `wheel spacer ${at}` : name;
  return [lead, ...told].join(' ');
}
