// From panel to panel by the arrow keys: to the nearest one that way.

interface Centred {
  centre: [number, number];
}

const ASIDE = 2.5; // how much further a mm aside counts than one ahead

export function nextPanel<P extends Centred>(panels: P[], from: P, [wx, wy]: [number, number]): P | null {
  const length = Math.hypot(wx, wy);
  let best: P | null = null;
  let least = Infinity;
  for (const panel of panels) {
    const [dx, dy] = [panel.centre[0] - from.centre[0], panel.centre[1] - from.centre[1]];
    const ahead = (dx * wx + dy * wy) / length;
    const aside = Math.abs(dx * wy - dy * wx) / length;
    if (panel === from || ahead < 0.5 || aside > 4 * ahead) continue;
    const far = ahead + ASIDE * aside;
    if (far < least) [best, least] = [panel, far];
  }
  return best;
}
