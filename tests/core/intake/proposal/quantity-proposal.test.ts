import { describe, expect, test } from 'vitest';
import { proposeQuantity } from '@/lib/core/intake/proposal/quantity-proposal';

function read(name: string, unitRow: string | null = null): string {
  const found = proposeQuantity(name, unitRow);
  return found === null
    ? 'nothing'
    : `${found.sign === -1 ? '-' : ''}${found.as} ${found.unit}${found.isUnitSaid ? '' : '?'}`;
}

describe('the name of a column gives its quantity and unit', () => {
  test.each([
    ['x', 'position.x m?'],
    ['pitch_err', 'attitude_error.pitch deg?'],
    ['posX_ft', 'position.x ft'],
    ['rel_pos_z [m]', 'position.z m'],
    ['position.y_km', 'position.y km'],
    ['vx_mps', 'velocity.x m/s'],
    ['px', 'position.x m?'],
    ['PosY [km]', 'position.y km'],
    ['velY (ft/s)', 'velocity.y ft/s'],
    ['rel_vel_z_m_s', 'velocity.z m/s'],
    ['range_m', 'range m'],
    ['RNG_FT', 'range ft'],
    ['range_rate_mps', 'range_rate m/s'],
    ['rdot', 'range_rate m/s?'],
    ['closing_rate_mps', '-range_rate m/s'],
    ['closing [m/s]', '-range_rate m/s'],
    ['roll_err_deg', 'attitude_error.roll deg'],
    ['att_pitch_rad', 'attitude_error.pitch rad'],
    ['yaw_rate_dps', 'body_rate.yaw deg/s'],
    ['omega_x [rad/s]', 'body_rate.roll rad/s'],
    ['body_q_dps', 'body_rate.pitch deg/s'],
    ['thc_x', 'hand_controller.x 1'],
    ['rhc_pitch', 'hand_controller.pitch 1'],
    ['propellant_kg', 'propellant_mass kg'],
    ['jet_on_time_y_s', 'jet_on_time.y s'],
    ['RANGE (FT)', 'range ft'],
    ['VX (FT/SEC)', 'velocity.x ft/s'],
    ['rollRate (deg/sec)', 'body_rate.roll deg/s'],
    ['vx_m_per_s', 'velocity.x m/s'],
    ['range_ft_filtered', 'range ft'],
    ['vx_mps_raw', 'velocity.x m/s'],
    ['yaw_rate_deg_s_est', 'body_rate.yaw deg/s'],
    ['wz (rad/s)', 'body_rate.yaw rad/s'],
  ])('%s is %s', (name, expected) => {
    expect(read(name)).toBe(expected);
  });

  test.each([
    'temperature_K',
    'range_valid_flag',
    'sigma_x_m',
    'bus_voltage_V',
    'propellant_pressure_psi',
    'acc_x_mps2',
    'frame_counter',
  ])('%s is left to a person', (name) => {
    expect(read(name)).toBe('nothing');
  });

  test('a unit of another kind of quantity speaks against the name', () => {
    expect(read('range_deg')).toBe('nothing');
    expect(read('vx', 'm')).toBe('nothing');
  });

  test('what stands in brackets and is no unit is not passed over', () => {
    const found = proposeQuantity('range [kft]', null);
    expect(found?.isUnitSaid).toBe(false);
    expect(found?.reason).toContain('"kft" is no unit that is known, m is proposed');
  });

  test('the row of units under the header is believed before the name', () => {
    expect(read('range', 'ft')).toBe('range ft');
  });
});
