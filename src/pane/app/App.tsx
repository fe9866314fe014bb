import {FluentProvider, makeStyles, tokens} from '@fluentui/react-components';
import {useEffect, useState} from 'react';
import {AboutView} from '../about/AboutView';
import {ASSEMBLY_DARK, ASSEMBLY_LIGHT} from '../charts/colors';
import {ColumnsView} from '../columns/ColumnsView';
import {CostView} from '../cost/CostView';
import {FunctionsView} from '../functions/FunctionsView';
import {TraceView} from '../trace/TraceView';
import {VehicleView} from '../vehicle/VehicleView';
import {WheelView} from '../wheel/WheelView';
import {Navigation} from './Navigation';
import {useLedger} from './useLedger';
import {useTheme} from './useTheme';
import {onViewRequest, requestedView} from './viewRequests';
import type {View} from './views';

const useStyles = makeStyles({
  page: {minHeight: '100vh', boxSizing: 'border-box', paddingBottom: tokens.spacingVerticalXXL},
  main: {padding: `0 ${tokens.spacingHorizontalM}`},
});

export function App() {
  const styles = useStyles();
  const {theme, dark} = useTheme();
  const [view, setView] = useState<View>(() => requestedView() ?? 'Wheel');
  useEffect(() => onViewRequest(setView), []);
  const {atHand, lookAgain} = useLedger();
  const assembly = {'--assembly': dark ? ASSEMBLY_DARK : ASSEMBLY_LIGHT} as React.CSSProperties;
  return (
    // Popups take over the provider's class, so that the height of the page stands on a block of its own.
    <FluentProvider theme={theme} style={assembly}>
      <div className={styles.page}>
        <Navigation view={view} onView={setView} />
        <main className={styles.main}>
          {view === 'Wheel' && <WheelView atHand={atHand} lookAgain={lookAgain} />}
          {view === 'Vehicle' && <VehicleView atHand={atHand} lookAgain={lookAgain} />}
          {view === 'Columns' && <ColumnsView lookAgain={lookAgain} />}
          {view === 'Cost' && <CostView atHand={atHand} lookAgain={lookAgain} />}
          {view === 'Trace' && <TraceView atHand={atHand} />}
          {view === 'Functions' && <FunctionsView atHand={atHand} />}
          {view === 'About' && <AboutView />}
        </main>
      </div>
    </FluentProvider>
  );
}
