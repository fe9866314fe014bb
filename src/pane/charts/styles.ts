import {makeStyles, tokens} from '@fluentui/react-components';

export const useChartStyles = makeStyles({
  chart: {display: 'block', maxWidth: '100%', '@media (forced-colors: active)': {forcedColorAdjust: 'auto'}},
  text: {fill: tokens.colorNeutralForeground2, fontSize: '11px', fontFamily: tokens.fontFamilyBase},
  grid: {stroke: tokens.colorNeutralStroke2, strokeWidth: '1px'},
  band: {
    fill: tokens.colorNeutralBackground4,
    '@media (forced-colors: active)': {fill: 'none', stroke: 'GrayText', strokeDasharray: '2 3'},
  },
  error: {stroke: tokens.colorNeutralForeground1, strokeWidth: '1.5px', fill: 'none'},
  legend: {
    display: 'flex',
    flexWrap: 'wrap',
    columnGap: tokens.spacingHorizontalM,
    listStyleType: 'none',
    margin: 0,
    padding: 0,
    fontSize: tokens.fontSizeBase200,
  },
});
