/** The written files of the demo folder: session.yaml, rules.yaml and README.md. */
import { VOICE_OFFSET_S, ZERO_UTC } from './demo-clock';
import { RUN_FILES } from './simulator-runs';

export const DEMO_TITLE = 'Wherry 2 arrival at Farpier (invented demo)';

/** Channels that both flights record. */
export const CHANNEL_LINES = `      x: { as: position.x, unit: m }
      y: { as: position.y, unit: m }
      z: { as: position.z, unit: m }
      vx: { as: velocity.x, unit: m/s }
      vy: { as: velocity.y, unit: m/s }
      vz: { as: velocity.z, unit: m/s }
      roll_err: { as: attitude_error.roll, unit: deg }
      pitch_err: { as: attitude_error.pitch, unit: deg }
      yaw_err: { as: attitude_error.yaw, unit: deg }
      roll_rate: { as: body_rate.roll, unit: deg/s }
      pitch_rate: { as: body_rate.pitch, unit: deg/s }
      yaw_rate: { as: body_rate.yaw, unit: deg/s }
      jet_x_on: { as: jet_on_time.x, unit: s }
      jet_y_on: { as: jet_on_time.y, unit: s }
      jet_z_on: { as: jet_on_time.z, unit: s }
      hc_x: { as: hand_controller.x, unit: "1" }
      hc_y: { as: hand_controller.y, unit: "1" }
      hc_z: { as: hand_controller.z, unit: "1" }
      prop: { as: propellant_mass, unit: kg }
      mode: { as: mode, unit: "1" }
`;

/** session.yaml of the flight alone. */
export const FLIGHT_YAML = `# An invented flight: vehicle, station and people do not exist.
title: ${DEMO_TITLE}
kind: flight
zero: ${ZERO_UTC}
sources:
  - file: telemetry.csv
    type: telemetry
    time: { column: utc, code: iso8601, scale: UTC }
    channels:
${CHANNEL_LINES}      tank_pressure: { as: tank_pressure, unit: kPa }
      nav_source: { as: nav_source, unit: "1" }
    points: port to port
    stamp: measured
    latency_s: 1.5
    navigation:
      selector: nav_source
      states:
        - { value: 1, name: relative satellite navigation }
        - { value: 2, name: docking camera, settles_s: 20 }
        - { value: 3, name: no update, kind: propagated, settles_s: 5 }
    modes:
      channel: mode
      states:
        - { value: 1, name: hold, motion: hold }
        - { value: 2, name: approach, motion: closing }
        - { value: 3, name: manual }
        - { value: 4, name: back-off, motion: opening }
        - { value: 5, name: final approach, motion: closing }
        - { value: 6, name: captured }
  - file: rangefinder.csv
    type: telemetry
    time: { column: utc, code: iso8601, scale: UTC }
    channels:
      laser_range: { as: range, unit: m }
    sensor: laser rangefinder
    points: port to port
    accuracy: { range_m: 0.1 }
    stamp: measured
    available: afterwards
  - file: events.csv
    type: events
    time: { column: elapsed, code: elapsed-dhms }
    stamp: received
  - file: loop.vtt
    type: events
    stamp: measured
    available: real-time
    clock: { offset_s: ${VOICE_OFFSET_S} }
plan: plan.yaml
rules: rules.yaml
`;

/** session.yaml of the flight with its simulator runs. */
export const SESSION_YAML = `${FLIGHT_YAML}simulations:
  files: ${RUN_FILES}
  like: telemetry.csv
  basis: prediction
  version: Farpier approach 3.2
  initial_state: dispersed in the hold at 40 m
  navigation_model: docking camera
  configuration: six axes of jets
  flown: { navigation_model: docking camera, configuration: six axes of jets }
`;

export const RULES_YAML = `id: farpier-arrival-rules
title: Flight rules of the arrival from ahead
rules:
  - id: closing-rate
    statement: Closing rate stays at or under the braking profile.
    quantity: closing_rate
    limit: { by: range, points_m_mps: [[0, 0.10], [20, 0.10], [26, 0.15], [38, 0.15], [44, 0.27], [300, 0.47]] }
    within: { range_m: [0, 310] }
    persists_s: 2.0
  - id: corridor
    statement: Lateral offset stays inside the approach corridor.
    quantity: lateral_offset
    limit: { cone: { half_angle_deg: 2, floor_m: 0.2 } }
    within: { axial_m: [2, 140] }
    persists_s: 2.0
  - id: final-rate
    statement: On the final approach, from 18 m to 2 m, the closing rate stays between 0.05 m/s and a bound that narrows to 0.09 m/s (a lesson of Wherry 1).
    quantity: closing_rate
    between: [{ constant: 0.05, unit: m/s }, { by: range, points: [[2, 0.09], [18, 0.10]], unit: m/s }]
    when: { range_m: [2, 18], mode: { channel: mode, is: [5] } }
    persists_s: 2.0
  - id: far-closing-rate
    statement: Beyond 320 m the closing rate stays under 1 m/s.
    quantity: closing_rate
    limit: { constant: 1, unit: m/s }
    within: { range_m: [320, 1000] }
  - id: propellant
    statement: 185 kg of propellant are kept for a retreat.
    quantity: propellant_mass
    at_least: { constant: 185, unit: kg }
  - id: go-first
    statement: The final approach starts after the director has given the go.
    order: { first: { event: go-final }, then: { step: final, edge: start } }
  - id: armed-first
    statement: The capture ring is armed before contact (a lesson of Wherry 1).
    order: { first: { event: capture-armed }, then: { event: contact } }
  - id: cut-off
    statement: No crew command in the last 2 m.
    never: { event: crew-command }
    within: { range_m: [0, 2] }
  - id: hold-40-length
    statement: The hold at 40 m lasts between 180 s and 480 s (a lesson of Wherry 1).
    duration: { step: hold-40, at_least_s: 180, at_most_s: 480 }
  - id: plume
    statement: Pressure at the port stays under 5 Pa during the final approach.
    quantity: port_pressure
    limit: { constant: 5, unit: Pa }
    within: { step: final }
`;

/** The rules of some ids alone, with the head of the file. */
export function rulesYaml(ids: readonly string[]): string {
  const [head = '', ...rules] = RULES_YAML.split(/^(?= {2}- id: )/m);
  const idOf = (rule: string): string => rule.slice('  - id: '.length, rule.indexOf('\n'));
  return [head, ...rules.filter((rule) => ids.includes(idOf(rule)))].join('');
}

export const PEOPLE_YAML = `rule_dispositions:
  - rule: hold-40-length
    disposition: waived
    given_by: DIRECTOR
    entry: { source: events.csv, line: 22 }
    by: Reviewer of the demo
    reason: The hold was let run on until the leak check was done; the go was given after it.
handling_tasks:
  - { name: Sideways to 1.2 m and hold, pilot: PILOT, from_s: 112, to_s: 134, quantity: y, target: 1.2, desired: 0.25, adequate: 0.5 }
  - { name: Upward to 1.2 m and hold, pilot: PILOT, from_s: 212, to_s: 261, quantity: z, target: 1.2, desired: 0.3, adequate: 0.8 }
  - { name: Back to the axis from above, pilot: PILOT, from_s: 282, to_s: 345, quantity: z, desired: 0.3, adequate: 0.8 }
handling_ratings:
  - task: Sideways to 1.2 m and hold
    scale: cooper-harper
    answers: { controllable: "yes", adequate: "yes", satisfactory: "yes" }
    rating: 2
    rater: PILOT
    remark: Crisp; it stops where it is asked to.
  - task: Upward to 1.2 m and hold
    scale: cooper-harper
    answers: { controllable: "yes", adequate: "no" }
    rating: 7
    rater: PILOT
    remark: The vertical answers late and I chase it.
  - task: Upward to 1.2 m and hold
    scale: cooper-harper
    answers: { controllable: "yes", adequate: "yes", satisfactory: "no" }
    rating: 5
    rater: SECOND PILOT
  - task: Upward to 1.2 m and hold
    scale: oscillation
    answers: { divergesOnEntry: "no", oscillates: "yes", divergent: "no" }
    rating: 4
    rater: PILOT
  - task: Back to the axis from above
    scale: bedford
    answers: { possible: "yes", tolerable: "yes", satisfactory: "no" }
    rating: 5
    rater: PILOT
`;

export const SCENARIO_README = `# ${DEMO_TITLE}

Everything here is invented. The flight was flown by a small simulator, not by anybody; vehicle,
station, people and numbers do not exist. It may be removed at any time.

Wherry 2 arrives from ahead of the station Farpier, on the orbit's velocity axis. The plan: hold at
300 m, approach to 40 m, hold, final approach. A capture ring stands out 0.25 m, so first touch is
0.25 m before the ports meet.

| file | what it holds |
| --- | --- |
| session.yaml | names of the files and how each is read |
| plan.yaml, rules.yaml | the plan and ten flight rules |
| telemetry.csv | ten rows a second, UTC stamps: port-to-port position and velocity, attitude error and rate, jets, hand controller, propellant, mode, which sensor fed the solution |
| rangefinder.csv | one range a second by a laser, inside 200 m |
| events.csv | logged events, elapsed time since session zero |
| loop.vtt | what was said, on the voice recorder's own clock: 12.4 s behind session time |
| people.yaml | what people decided about a rule; tasks of the manual test and their ratings |
| simulations/ | two hundred simulator runs of the final approach |

Modes: 1 hold, 2 approach, 3 manual, 4 back-off, 5 final approach, 6 captured.
`;
