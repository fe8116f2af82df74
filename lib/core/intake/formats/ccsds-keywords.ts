/** The keywords of CCSDS navigation messages and the units their standards fix. */

export const CCSDS_KINDS = ['TDM', 'OEM', 'AEM'] as const;
export type CcsdsKind = (typeof CCSDS_KINDS)[number];

/** `TRANSMIT_FREQ_n` for `TRANSMIT_FREQ_2`: keywords are listed without their number. */
function withoutNumber(keyword: string): string {
  return keyword.replace(/_\d+$/, '_n');
}

const EPHEMERIS =
  'OBJECT_NAME OBJECT_ID CENTER_NAME TIME_SYSTEM START_TIME USEABLE_START_TIME USEABLE_STOP_TIME STOP_TIME';

/** Source: 503.0-B-2 table 3-3; 502.0-B-3 table 5-3; 504.0-B-2 table 4-3 and 504.0-B-1. */
const METADATA: Readonly<Record<CcsdsKind, ReadonlySet<string>>> = {
  TDM: new Set(
    `TRACK_ID DATA_TYPES TIME_SYSTEM START_TIME STOP_TIME PARTICIPANT_n MODE PATH PATH_n EPHEMERIS_NAME_n
    TRANSMIT_BAND RECEIVE_BAND TURNAROUND_NUMERATOR TURNAROUND_DENOMINATOR TIMETAG_REF INTEGRATION_INTERVAL
    INTEGRATION_REF FREQ_OFFSET RANGE_MODE RANGE_MODULUS RANGE_UNITS ANGLE_TYPE REFERENCE_FRAME INTERPOLATION
    INTERPOLATION_DEGREE DOPPLER_COUNT_BIAS DOPPLER_COUNT_SCALE DOPPLER_COUNT_ROLLOVER TRANSMIT_DELAY_n
    RECEIVE_DELAY_n DATA_QUALITY CORRECTION_ANGLE_n CORRECTION_DOPPLER CORRECTION_MAG CORRECTION_RANGE
    CORRECTION_RCS CORRECTION_RECEIVE CORRECTION_TRANSMIT CORRECTION_ABERRATION_YEARLY
    CORRECTION_ABERRATION_DIURNAL CORRECTIONS_APPLIED`.split(/\s+/),
  ),
  OEM: new Set(
    `${EPHEMERIS} REF_FRAME REF_FRAME_EPOCH INTERPOLATION INTERPOLATION_DEGREE`.split(' '),
  ),
  AEM: new Set(
    `${EPHEMERIS} REF_FRAME_A REF_FRAME_B ATTITUDE_DIR ATTITUDE_TYPE QUATERNION_TYPE EULER_ROT_SEQ RATE_FRAME
    ANGVEL_FRAME INTERPOLATION_METHOD INTERPOLATION_DEGREE`.split(/\s+/),
  ),
};

export function isMetadataKeyword(kind: CcsdsKind, keyword: string): boolean {
  return METADATA[kind].has(keyword) || METADATA[kind].has(withoutNumber(keyword));
}

/** Unit of each tracking observation; RANGE has the one of RANGE_UNITS. Source: 503.0-B-2 section 3.5. */
const OBSERVATIONS: ReadonlyMap<string, string> = new Map(
  Object.entries({
    ANGLE_n: 'deg',
    CARRIER_POWER: 'dBW',
    CLOCK_BIAS: 's',
    CLOCK_DRIFT: 's/s',
    DOPPLER_COUNT: '1',
    DOPPLER_INSTANTANEOUS: 'km/s',
    DOPPLER_INTEGRATED: 'km/s',
    DOR: 's',
    MAG: 'mag',
    PC_N0: 'dBHz',
    PR_N0: 'dBHz',
    PRESSURE: 'hPa',
    RANGE: 'km',
    RCS: 'm2',
    RECEIVE_FREQ: 'Hz',
    RECEIVE_FREQ_n: 'Hz',
    RECEIVE_PHASE_CT_n: '1',
    RHUMIDITY: '%',
    STEC: 'TECU',
    TEMPERATURE: 'K',
    TRANSMIT_FREQ_n: 'Hz',
    TRANSMIT_FREQ_RATE_n: 'Hz/s',
    TRANSMIT_PHASE_CT_n: '1',
    TROPO_DRY: 'm',
    TROPO_WET: 'm',
    VLBI_DELAY: 's',
  }),
);

/** Unit of a tracking observation; null for a type that the standard does not have. */
export function observationUnit(keyword: string): string | null {
  return OBSERVATIONS.get(keyword) ?? OBSERVATIONS.get(withoutNumber(keyword)) ?? null;
}

/** Components of an orbit state, in the order of a line, with their units (502.0-B-3 section 5.2.4). */
export const STATE_COMPONENTS: readonly (readonly [keyword: string, unit: string])[] = [
  ['X', 'km'],
  ['Y', 'km'],
  ['Z', 'km'],
  ['X_DOT', 'km/s'],
  ['Y_DOT', 'km/s'],
  ['Z_DOT', 'km/s'],
  ['X_DDOT', 'km/s2'],
  ['Y_DDOT', 'km/s2'],
  ['Z_DDOT', 'km/s2'],
];

/** Components of an attitude state by ATTITUDE_TYPE (504.0-B-2 table 4-4); scalar part last. */
const ATTITUDES: ReadonlyMap<string, readonly string[]> = new Map(
  Object.entries({
    QUATERNION: ['Q1', 'Q2', 'Q3', 'QC'],
    'QUATERNION/DERIVATIVE': ['Q1', 'Q2', 'Q3', 'QC', 'Q1_DOT', 'Q2_DOT', 'Q3_DOT', 'QC_DOT'],
    'QUATERNION/RATE': ['Q1', 'Q2', 'Q3', 'QC', 'ANGLE_1_RATE', 'ANGLE_2_RATE', 'ANGLE_3_RATE'],
    'QUATERNION/ANGVEL': ['Q1', 'Q2', 'Q3', 'QC', 'ANGVEL_X', 'ANGVEL_Y', 'ANGVEL_Z'],
    EULER_ANGLE: ['ANGLE_1', 'ANGLE_2', 'ANGLE_3'],
    'EULER_ANGLE/DERIVATIVE': 'ANGLE_1 ANGLE_2 ANGLE_3 ANGLE_1_DOT ANGLE_2_DOT ANGLE_3_DOT'.split(
      ' ',
    ),
    'EULER_ANGLE/RATE': 'ANGLE_1 ANGLE_2 ANGLE_3 ANGLE_1_RATE ANGLE_2_RATE ANGLE_3_RATE'.split(' '),
    'EULER_ANGLE/ANGVEL': 'ANGLE_1 ANGLE_2 ANGLE_3 ANGVEL_X ANGVEL_Y ANGVEL_Z'.split(' '),
    SPIN: ['SPIN_ALPHA', 'SPIN_DELTA', 'SPIN_ANGLE', 'SPIN_ANGLE_VEL'],
    'SPIN/NUTATION':
      'SPIN_ALPHA SPIN_DELTA SPIN_ANGLE SPIN_ANGLE_VEL NUTATION NUTATION_PER NUTATION_PHASE'.split(
        ' ',
      ),
    // From memory.
    'SPIN/NUTATION_MOM':
      'SPIN_ALPHA SPIN_DELTA SPIN_ANGLE SPIN_ANGLE_VEL MOMENTUM_ALPHA MOMENTUM_DELTA NUTATION_VEL'.split(
        ' ',
      ),
  }),
);

/** Names of the numbers of an attitude line; null for a type that is not known. */
export function attitudeComponents(
  attitudeType: string,
  quaternionType: string | null,
): readonly string[] | null {
  const names = ATTITUDES.get(attitudeType.replace(/\s*\/\s*/, '/').replace(' ', '_')) ?? null;
  if (names === null || quaternionType !== 'FIRST') return names;
  return names.flatMap((name, at) => {
    if (at % 4 === 0 && /^Q1/.test(name)) return [name.replace('Q1', 'QC'), name];
    return /^QC/.test(name) ? [] : [name];
  });
}

/** Unit of a component of a state, null where it has none that is fixed. */
export function componentUnit(kind: CcsdsKind, keyword: string): string | null {
  if (kind === 'OEM') return STATE_COMPONENTS.find(([name]) => name === keyword)?.[1] ?? null;
  if (kind === 'TDM') return observationUnit(keyword);
  if (/^Q[123C]$/.test(keyword)) return '1';
  if (/_DOT$/.test(keyword) && keyword.startsWith('Q')) return '1/s';
  return /_(?:RATE|DOT|VEL)$|^ANGVEL/.test(keyword)
    ? 'deg/s'
    : keyword === 'NUTATION_PER'
      ? 's'
      : 'deg';
}
