/** Reads the class geometry under `rules/geometry` into the models' plain SI object, for tests and benches. */
import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import type { FrontCorner, Hardpoints, Obstacle } from '../../../services/models/suspension/geometry.ts';
import type { TyreShape } from '../../../services/models/suspension/tyre-shape.ts';
import type { Vec3 } from '../../../services/models/suspension/vector.ts';

// biome-ignore lint/suspicious/noExplicitAny: the document is read as it stands; a wrong shape fails the tests
type Node = any;

const FACTORS: Readonly<Record<string, number>> = { mm: 1e-3, deg: Math.PI / 180, 'N/mm': 1e3, N: 1, kg: 1 };

function number(text: string): number {
  const match = /^(-?[\d.]+) (\S+)$/.exec(text);
  const factor = match && FACTORS[match[2]!];
  if (!match || !factor) throw new Error(`not a quantity: ${text}`);
  return Number(match[1]) * factor;
}

function value(node: Node): number {
  return number(typeof node === 'string' ? node : node.value);
}

function triple(text: string, factor: number): Vec3 {
  const parts = text.replace(/ mm$/, '').split(',').map(Number);
  if (parts.length !== 3 || parts.some(Number.isNaN)) throw new Error(`not a point: ${text}`);
  return [parts[0]! * factor, parts[1]! * factor, parts[2]! * factor];
}

const point = (node: Node): Vec3 => triple(typeof node === 'string' ? node : node.at, 1e-3);

export interface ClassGeometry {
  readonly corner: FrontCorner;
  readonly tyre: TyreShape;
  readonly axleMass: number;
  readonly unsprungCorner: number;
}

export function readClassGeometry(): ClassGeometry {
  const d: Node = parse(readFileSync(new URL('../../../rules/geometry/midsize_independent_front.yaml', import.meta.url), 'utf8'));
  const camel = (s: string) => s.replace(/_(.)/g, (_, c: string) => c.toUpperCase());
  const points = Object.fromEntries(Object.entries(d.hardpoints).map(([k, v]) => [camel(k), point(v)]));
  const joint = (n: Node) => ({ neutralBias: number(n.neutral_bias), swingLimit: value(n.swing_limit) });
  const { coil_over: c, half_shaft: s, brake_hose: b, anti_roll_bar: a, tyre: t } = d;
  const corner: FrontCorner = {
    hardpoints: { ...points, wheelAxis: triple(d.wheel_axis.direction, 1) } as unknown as Hardpoints,
    coilOver: {
      lower: point(c.lower),
      upper: point(c.upper),
      extended: value(c.extended),
      collapsed: value(c.collapsed),
      springRate: value(c.spring_rate),
      springForceExtended: value(c.spring_force_extended),
      springOuterRadius: value(c.spring_outer_radius),
    },
    bumpStop: { contactLength: value(d.bump_stop.contact_length), solidLength: value(d.bump_stop.solid_length) },
    upperBallJointLimit: joint(d.ball_joints.upper),
    lowerBallJointLimit: joint(d.ball_joints.lower),
    halfShaft: {
      inner: point(s.inner),
      outer: point(s.outer),
      innerMaxAngle: value(s.inner_max_angle),
      outerMaxAngle: value(s.outer_max_angle),
      plungeEachWay: value(s.plunge_each_way),
    },
    brakeHose: { chassisEnd: point(b.chassis_end), caliperEnd: point(b.caliper_end), freeLength: value(b.free_length) },
    antiRollBar: {
      axisPoint: point(a.axis),
      axisDirection: triple(a.axis.direction, 1),
      linkLower: point(a.link_lower),
      linkUpper: point(a.link_upper),
    },
    steering: { rackTravel: value(d.steering.rack_travel) },
    obstacles: Object.entries<Node>(d.obstacles).map(
      ([id, o]): Obstacle => ({
        id,
        frame: o.frame,
        side: o.side ?? 'both',
        radius: o.radius ? number(o.radius) : 0,
        flexible: o.flexible === 'yes' || o.flexible === true,
        lines: (o.lines ?? []).map((line: Node[]) => line.map(point)),
        patches: (o.patches ?? []).map((patch: Node[]) => patch.map(point)),
      }),
    ),
  };
  return {
    corner,
    tyre: {
      freeRadius: value(t.free_radius),
      loadedRadius: value(t.loaded_radius),
      sectionWidth: value(t.section_width),
      shoulderRadius: value(t.shoulder_radius),
    },
    axleMass: value(d.masses.front_axle_kerb),
    unsprungCorner: value(d.masses.unsprung_corner),
  };
}
