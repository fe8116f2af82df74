import { ScatterCanvas } from '@/app/_components/charts/scatter-canvas';
import type { DifferencePicture } from '@/lib/view/navigation/difference-picture';
import styles from './navigation.module.css';

type PairPictureProps = Readonly<{ picture: DifferencePicture | null }>;

/** The differences over range as a picture, with what its lines mean and how much of it is drawn. */
export function PairPicture({ picture }: PairPictureProps) {
  if (picture === null)
    return (
      <p className="soft">
        The single differences are not kept with this reconstruction; they are drawn once it has
        been computed again.
      </p>
    );
  return (
    <>
      <ScatterCanvas picture={picture} />
      <p className={`panel-note ${styles.drawn}`}>
        Dots: single differences, with their values under the pointer. Thick line: bias by range.
        Shaded between dashed edges: the 95 % interval of the bias, with what the sources state.
        Dotted: zero. {picture.drawn}
      </p>
    </>
  );
}
