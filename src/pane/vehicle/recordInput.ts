/** A vehicle and what is done with it, as the record sheet takes it. */
import type {RecordInput} from '../../workbook/record/input';
import type {Sensitivity} from '../../workbook/sensitivities';
import type {Plan} from './planModel';
import type {Vehicle} from './vehicleModel';

const isNumber = (cell: unknown): boolean => typeof cell === 'number' && cell > 0;

export function recordInput(vehicle: Vehicle, plan: Plan, table: readonly Sensitivity[]): RecordInput {
  return {
    job: vehicle.job,
    vehicle: String(vehicle.wheels[0]?.record.cells('Vehicle')[0] ?? '').trim(),
    wheels: vehicle.wheels.map(({record, position, parts}) => {
      const limits = record.cells('Limits');
      const {finding, reason} = parts.assessed!;
      return {
        record,
        position,
        rimLimit: isNumber(limits[1]),
        curveLimit: isNumber(limits[1]) && isNumber(limits[2]),
        weighed: record.cells('Unbalance').filter((cell) => typeof cell === 'number').length === 4,
        finding,
        reason,
      };
    }),
    work: plan.rules.work,
    planned: plan.planned.map(({tire, rim, position}) => ({tire, rim, position})),
    groups: plan.groups.map(({wheels}) => wheels),
    blocks: plan.blocks,
    sensitivities: plan.sensitivities,
    byClass: table.some((row) => row.class !== ''),
    notes: plan.notes,
    without: vehicle.without,
  };
}
