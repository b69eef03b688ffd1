// The eye: it looks at the middle of what there is to see, from a turn and a tilt, near enough to fill the pane.

import { PerspectiveCamera, Vector3 } from "three";
import type { Body } from "./body";

const OPENING = 26; // degrees
const NEAREST = 0.2;
const FARTHEST = 3;
const MARGIN = 1.05;
const FRONT_RIGHT = { turn: 32, tilt: 28 };

export interface Room {
  low: Vector3;
  high: Vector3;
}

export class Eye {
  readonly camera = new PerspectiveCamera(OPENING, 1, 1, 10);
  turn = FRONT_RIGHT.turn; // degrees, from the front to the right
  tilt = FRONT_RIGHT.tilt; // degrees above the bench
  private near = 1; // 1 fills the pane

  zoom(times: number): void {
    this.near = Math.min(Math.max(this.near / times, NEAREST), FARTHEST);
  }

  reset(): void {
    this.turn = FRONT_RIGHT.turn;
    this.tilt = FRONT_RIGHT.tilt;
    this.near = 1;
  }

  look({ low, high }: Room, aspect: number): void {
    const [a, e] = [(this.turn * Math.PI) / 180, (this.tilt * Math.PI) / 180];
    const back = new Vector3(Math.sin(a) * Math.cos(e), -Math.cos(a) * Math.cos(e), Math.sin(e));
    const right = new Vector3(Math.cos(a), Math.sin(a), 0);
    const up = new Vector3().crossVectors(back, right);
    const steep = Math.tan((OPENING * Math.PI) / 360);
    const centre = low.clone().add(high).multiplyScalar(0.5);
    const reach = low.distanceTo(high) / 2 + 1;
    let far = 0;
    for (const corner of cornersOf(low, high)) {
      corner.sub(centre);
      const aside = Math.max(Math.abs(corner.dot(right)) / aspect, Math.abs(corner.dot(up)));
      far = Math.max(far, corner.dot(back) + (MARGIN * aside) / steep);
    }
    far *= this.near;
    this.camera.aspect = aspect;
    this.camera.near = Math.max(far - reach, far / 100);
    this.camera.far = far + reach;
    this.camera.up.copy(up);
    this.camera.position.copy(centre).addScaledVector(back, far);
    this.camera.lookAt(centre);
    this.camera.updateProjectionMatrix();
    this.camera.updateMatrixWorld();
  }
}

function cornersOf(low: Vector3, high: Vector3): Vector3[] {
  const ends = [low, high];
  return ends.flatMap(({ x }) => ends.flatMap(({ y }) => ends.map(({ z }) => new Vector3(x, y, z))));
}

// The room that a body takes as it stands.
export function roomOf(body: Body): Room {
  const places = body.faces.getAttribute("position").array;
  const low = new Vector3(Infinity, Infinity, Infinity);
  const high = new Vector3(-Infinity, -Infinity, -Infinity);
  const place = new Vector3();
  for (let i = 0; i < places.length; i += 3) {
    place.set(places[i]!, places[i + 1]!, places[i + 2]!);
    low.min(place);
    high.max(place);
  }
  return { low, high };
}
