/** What a record sheet is made from. */
import type {Finding} from '../../maths/assess';
import type {LedgerRecord} from '../ledger';

export interface RecordWheel {
  readonly record: LedgerRecord;
  readonly position: string;
  /** The limits hold a third one, for the whole curve. */
  readonly curveLimit: boolean;
  /** The limits hold one for the rim. */
  readonly rimLimit: boolean;
  readonly weighed: boolean;
  /** As they stand now; the sheet's own formulas say them again. They tell how much room the words need. */
  readonly finding: Finding;
  readonly reason: string;
}

/** A tire with its rim after the work; numbers are those of the wheels, from 0. */
export interface RecordWork {
  readonly tire: number;
  readonly rim: number;
  /** The wheel whose position it takes. */
  readonly position: number;
}

export interface RecordInput {
  readonly job: string;
  readonly vehicle: string;
  readonly wheels: readonly RecordWheel[];
  readonly work: 'as they are' | 'turn where found' | 'pair anew';
  readonly planned: readonly RecordWork[];
  /** Wheels of one size, among which tires and rims are paired. */
  readonly groups: readonly (readonly number[])[];
  /** Wheels that were placed among each other's positions; none when nothing is placed. */
  readonly blocks: readonly (readonly number[])[];
  readonly sensitivities: readonly (number | undefined)[];
  /** The table Positions has a column of classes. */
  readonly byClass: boolean;
  /** The rules that were kept, in words. */
  readonly notes: readonly string[];
  /** Wheels of the job without figures, and why. */
  readonly without: readonly {readonly position: string; readonly why: string}[];
}
