'use client';

import type { Dispatch, ReactNode } from 'react';
import { partsOfPlace } from '@/lib/view/strip-places';
import type { TimelineView } from '@/lib/view/timeline';
import type { SearchHit } from '@/lib/view/timeline-search';
import type { TimelineAction, TimelineSheet, TimelineState } from '@/lib/view/timeline-state';
import { suggestFindings } from '@/lib/view/timeline-suggestions';
import type { EntryPlace } from '@/lib/view/timeline-time-entry';
import { AnnotationForm } from './annotation-form';
import { focusCursor } from './cursor-focus';
import { FindingForm } from './finding-form';
import { QuestionForm } from './question-form';
import { SearchSheet } from './search-sheet';
import styles from './side-sheet.module.css';
import { StripChooser } from './strip-chooser';
import { UndoSheet } from './undo-sheet';
import type { EditHistory } from './use-history';
import type { TimelineActs } from './use-timeline-acts';

type SideSheetProps = Readonly<{
  view: TimelineView;
  state: TimelineState;
  dispatch: Dispatch<TimelineAction>;
  say: (sentence: string) => void;
  history: EditHistory;
  place: EntryPlace;
  hits: readonly SearchHit[];
  acts: TimelineActs;
}>;

/**
 * A sheet to be written in takes the focus into its first field; one to be read takes it itself. The
 * sheet is in view wherever the page stands, so nothing scrolls.
 */
export function focusSheet({ kind }: TimelineSheet): void {
  const sheet = document.getElementById('timeline-sheet');
  const isWritten = kind.startsWith('new-') || kind === 'strips' || kind === 'search';
  const field =
    sheet?.querySelector<HTMLElement>('[data-first]') ??
    sheet?.querySelector<HTMLElement>('input[type="search"]');
  ((isWritten ? field : null) ?? sheet)?.focus({ preventScroll: true });
}

/** Beside the strips, which stay in view: a finding, an annotation, or the list of channels. */
export function SideSheet(props: SideSheetProps) {
  const { view, state, dispatch, say, history, place, hits, acts } = props;
  const { sheet } = state;
  if (sheet === null) return null;
  const close = (): void => dispatch({ kind: 'close' });
  if (sheet.kind === 'strips')
    return (
      <SheetFrame title="What is put on" close={close}>
        <StripChooser view={view} state={state} dispatch={dispatch} say={say} />
      </SheetFrame>
    );
  if (sheet.kind === 'search')
    return (
      <SheetFrame title="Search" close={close}>
        <SearchSheet {...{ view, state, hits, acts, dispatch }} />
      </SheetFrame>
    );
  const { selection } = state;
  const { remember } = history;
  const known = new Set(view.catalogue.strips.map((strip) => strip.id));
  const channels = [...new Set(state.strips.flatMap((id) => partsOfPlace(id, known)))];
  const common = { sessionId: view.sessionId, place, selection, dispatch, say, remember };
  if (sheet.kind === 'new-finding')
    return (
      <SheetFrame title="New finding" close={close}>
        <FindingForm
          key="new"
          {...common}
          channels={channels}
          finding={null}
          suggestions={selection === null ? [] : suggestFindings(view, selection)}
        />
      </SheetFrame>
    );
  if (sheet.kind === 'new-annotation')
    return (
      <SheetFrame title="New annotation" close={close}>
        <AnnotationForm key="new" {...common} channels={channels} annotation={null} />
      </SheetFrame>
    );
  if (sheet.kind === 'new-question')
    return (
      <SheetFrame title="Ask the crew" close={close}>
        <QuestionForm {...common} channels={channels} />
      </SheetFrame>
    );
  if (sheet.kind === 'withdrawn' || sheet.kind === 'removed')
    return (
      <SheetFrame title={sheet.kind === 'withdrawn' ? 'Withdrawn' : 'Removed'} close={close}>
        <UndoSheet was={sheet} dispatch={dispatch} history={history} />
      </SheetFrame>
    );
  const bar = 'id' in sheet ? view.remarks.find((each) => each.id === sheet.id) : undefined;
  if (bar?.kind === 'finding')
    return (
      <SheetFrame title={`Finding ${bar.finding.number}`} close={close}>
        <FindingForm key={bar.id} {...common} channels={channels} finding={bar.finding} />
      </SheetFrame>
    );
  if (bar?.kind === 'annotation')
    return (
      <SheetFrame title="Annotation" close={close}>
        <AnnotationForm key={bar.id} {...common} channels={channels} annotation={bar.annotation} />
      </SheetFrame>
    );
  return (
    <SheetFrame title="No longer there" close={close}>
      <p>This was withdrawn or removed meanwhile.</p>
    </SheetFrame>
  );
}

type SheetFrameProps = Readonly<{ title: string; close: () => void; children: ReactNode }>;

function SheetFrame({ title, close, children }: SheetFrameProps) {
  return (
    <aside
      id="timeline-sheet"
      className={styles.sheet}
      tabIndex={-1}
      aria-label={title}
      onKeyDown={(event) => {
        if (event.key !== 'Escape' || event.defaultPrevented) return;
        event.stopPropagation();
        close();
        focusCursor();
      }}
    >
      <div className={styles.head}>
        <h2>{title}</h2>
        <button
          type="button"
          className={styles.close}
          onClick={close}
          aria-label={`Close: ${title}`}
        >
          close
        </button>
      </div>
      {children}
    </aside>
  );
}
