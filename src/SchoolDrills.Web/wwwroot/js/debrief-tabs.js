// @ts-check
// The debrief's parts in tabs on a phone, the one shown kept in the address's hash; on a wider screen all of them are on the page.

const LOWEST_BESIDE_PX = 240;

/** @type {Map<HTMLElement, AbortController>} */
const watched = new Map();

/** @param {HTMLElement} root */
export function watch(root) {
  const controller = new AbortController();
  const { signal } = controller;
  watched.set(root, controller);
  const narrow = matchMedia('screen and (max-width: 719px)');
  const wide = matchMedia('screen and (min-width: 1200px)');
  const tabs = /** @type {HTMLElement[]} */ ([...root.querySelectorAll('[role=tab]')]);

  /** @param {string} name */
  const show = name => {
    root.dataset.tab = name;
    for (const tab of tabs) {
      const isShown = tab.dataset.tab === name;
      tab.ariaSelected = String(isShown);
      tab.tabIndex = isShown ? 0 : -1;
    }
    root.querySelector(`[data-pane='${name}'] [data-row].chosen`)?.scrollIntoView({ block: 'center' });
  };
  /** @param {HTMLElement} tab */
  const choose = tab => {
    const name = tab.dataset.tab ?? 'picture';
    // In full: a hash alone would be taken from the page's base.
    history.replaceState(history.state, '', `${location.pathname}${location.search}#${name}`);
    show(name);
  };
  const fromHash = () => {
    const name = location.hash.slice(1);
    if (tabs.some(tab => tab.dataset.tab === name)) show(name);
  };
  // They are panels of tabs only while there are tabs.
  const setRoles = () => {
    for (const pane of /** @type {NodeListOf<HTMLElement>} */ (root.querySelectorAll('[data-pane]'))) {
      if (narrow.matches) {
        pane.setAttribute('role', 'tabpanel');
        pane.setAttribute('aria-labelledby', `tab-${pane.dataset.pane}`);
      } else {
        pane.removeAttribute('role');
        pane.removeAttribute('aria-labelledby');
      }
    }
  };

  // At a desk the grade beside the picture ends with the screen, so that its bar is in sight.
  const beside = /** @type {HTMLElement | null} */ (root.querySelector('[data-scroller]'));
  const fit = () => {
    const pane = beside?.parentElement;
    if (!beside || !pane) return;
    const top = pane.getBoundingClientRect().top + scrollY;
    beside.style.maxHeight = wide.matches ? `${Math.max(LOWEST_BESIDE_PX, innerHeight - top - 8)}px` : '';
  };
  const resized = new ResizeObserver(fit);
  resized.observe(root);
  if (beside?.parentElement) resized.observe(beside.parentElement);
  signal.addEventListener('abort', () => resized.disconnect());
  addEventListener('resize', fit, { signal });

  for (const tab of tabs) tab.addEventListener('click', () => choose(tab), { signal });
  tabs[0]?.parentElement?.addEventListener(
    'keydown',
    event => {
      const at = tabs.indexOf(/** @type {HTMLElement} */ (event.target));
      /** @type {Record<string, number>} */
      const to = { ArrowRight: (at + 1) % tabs.length, ArrowLeft: (at - 1 + tabs.length) % tabs.length, Home: 0, End: tabs.length - 1 };
      if (at < 0 || !(event.key in to)) return;
      event.preventDefault();
      choose(tabs[to[event.key]]);
      tabs[to[event.key]].focus();
    },
    { signal },
  );
  narrow.addEventListener('change', setRoles, { signal });
  addEventListener('hashchange', fromHash, { signal });
  setRoles();
  fromHash();
}

/** @param {HTMLElement} root */
export function unwatch(root) {
  watched.get(root)?.abort();
  watched.delete(root);
}
