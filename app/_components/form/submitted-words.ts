import type { FormEvent } from 'react';

/**
 * Hands over what a form holds as it is sent. As the form's `action` React would empty the fields
 * afterwards, refused or not: what was typed has to outlive a refusal.
 */
export function submittedWords(
  take: (words: FormData) => void,
): (event: FormEvent<HTMLFormElement>) => void {
  return (event) => {
    event.preventDefault();
    take(new FormData(event.currentTarget));
  };
}
