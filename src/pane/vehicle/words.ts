/** What is to be done with the wheels of a vehicle, in words. */
import {clock} from '../../maths/clock';
import {arcLength} from '../../maths/match';
import {FINDINGS} from '../wheel/words';
import type {Plan} from './planModel';
import type {Vehicle} from './vehicleModel';

export interface Steps {
  readonly steps: readonly string[];
  /** A tire has to come off its rim. */
  readonly demounts: boolean;
  /** What no pairing or placing cures. */
  readonly remarks: readonly string[];
}

export function steps(vehicle: Vehicle, {planned}: Plan, rimMm: (wheel: number) => number | undefined): Steps {
  const name = (wheel: number): string => vehicle.wheels[wheel].position;
  const demounted = planned.filter((wheel) => wheel.demounted);
  const list: string[] = [];
  if (demounted.length > 0) {
    list.push(
      `Chalk the ${demounted.length === 1 ? 'tire' : 'tires'} of ${demounted.map(({tire}) => name(tire)).join(', ')} at the valve hole and demount.`,
    );
    for (const {tire, rim, turn} of demounted) {
      const whole = Math.round(turn);
      const diameter = rimMm(rim);
      const along =
        diameter === undefined || whole === 0
          ? ''
          : `, ${Math.round(Math.abs(arcLength(whole, diameter)))} mm along the edge of the rim from its valve hole`;
      const onto = rim === tire ? `on its rim` : `on the rim of ${name(rim)}`;
      list.push(
        `Mount the tire of ${name(tire)} ${onto}, chalk ${whole === 0 ? 'at the valve hole' : `at ${clock(whole, vehicle.clockwise)} o’clock, seen from outboard with the valve at 12${along}`}.`,
      );
    }
    list.push('Inspect bead and sensor, measure again and balance.');
  }
  const moved = planned.filter(({tire, position}) => tire !== position);
  if (moved.length > 0) {
    list.push(
      `Place the wheels: ${moved.map(({tire, position}) => `that with the tire of ${name(tire)} goes to ${name(position)}`).join('; ')}.`,
    );
  }
  const remarks = vehicle.wheels.flatMap(({position, parts}) => {
    const {finding} = parts.assessed!;
    return finding === 'accept' || finding === 'match mount'
      ? []
      : [`${position}, by itself: ${FINDINGS[finding].title.toLowerCase()}.`];
  });
  return {steps: list, demounts: demounted.length > 0, remarks};
}
