import {
  Button,
  makeStyles,
  Menu,
  MenuItem,
  MenuList,
  MenuPopover,
  MenuTrigger,
  Tab,
  TabList,
  tokens,
} from '@fluentui/react-components';
import {useEffect, useState} from 'react';
import {VIEWS, type View} from './views';

const useStyles = makeStyles({
  // The top right corner belongs to Excel's own button.
  bar: {
    display: 'flex',
    alignItems: 'center',
    paddingRight: '36px',
    minHeight: '40px',
    columnGap: tokens.spacingHorizontalS,
  },
  grow: {flexGrow: 1},
});

/** Below this width the tabs fold into a menu. */
const FOLD = '(max-width: 479px)';

interface Props {
  readonly view: View;
  readonly onView: (view: View) => void;
}

/** One row of tabs that folds into a menu; About stands in the menu alone. */
export function Navigation({view, onView}: Props) {
  const styles = useStyles();
  const [folded, setFolded] = useState(() => matchMedia(FOLD).matches);
  useEffect(() => {
    const query = matchMedia(FOLD);
    const update = (): void => setFolded(query.matches);
    query.addEventListener('change', update);
    return () => query.removeEventListener('change', update);
  }, []);
  const items: readonly View[] = folded ? [...VIEWS, 'About'] : ['About'];
  return (
    <nav className={styles.bar} aria-label="Views">
      {!folded && (
        <TabList
          className={styles.grow}
          selectedValue={view}
          onTabSelect={(_, {value}) => onView(value as View)}
          size="small"
        >
          {VIEWS.map((name) => (
            <Tab key={name} value={name}>
              {name}
            </Tab>
          ))}
        </TabList>
      )}
      <Menu>
        <MenuTrigger disableButtonEnhancement>
          <Button appearance="subtle" size="small">
            {folded ? `${view} ▾` : 'More ▾'}
          </Button>
        </MenuTrigger>
        <MenuPopover>
          <MenuList>
            {items.map((name) => (
              <MenuItem key={name} onClick={() => onView(name)}>
                {name}
              </MenuItem>
            ))}
          </MenuList>
        </MenuPopover>
      </Menu>
    </nav>
  );
}
