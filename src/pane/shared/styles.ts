import {makeStyles, tokens} from '@fluentui/react-components';

/** Layout that all views share. */
export const usePageStyles = makeStyles({
  section: {paddingTop: tokens.spacingVerticalL},
  stack: {
    display: 'flex',
    flexDirection: 'column',
    rowGap: tokens.spacingVerticalS,
    // The gap is enough.
    '& > p': {margin: 0},
  },
  row: {display: 'flex', flexWrap: 'wrap', columnGap: tokens.spacingHorizontalS, rowGap: tokens.spacingVerticalS},
  quiet: {color: tokens.colorNeutralForeground2},
  heading: {
    margin: 0,
    fontSize: tokens.fontSizeBase400,
    fontWeight: tokens.fontWeightSemibold,
    lineHeight: tokens.lineHeightBase400,
  },
  list: {margin: 0, paddingLeft: '20px'},
  figures: {
    display: 'grid',
    gridTemplateColumns: 'minmax(0, max-content) minmax(35%, 1fr)',
    columnGap: tokens.spacingHorizontalM,
    margin: 0,
    fontVariantNumeric: 'tabular-nums',
    '& dt': {color: tokens.colorNeutralForeground2},
    '& dd': {margin: 0, overflowWrap: 'anywhere'},
  },
});
