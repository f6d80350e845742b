// What was asked of the server before the app was there (public/first.js). Only the app's start takes
// these answers: later they are old.

type Path = '/api/session' | '/api/round';
export type FirstAnswers = Partial<Record<Path, Promise<Response>>>;

declare global {
  interface Window {
    first_answers?: FirstAnswers;
  }
}

/** They are given once. */
export function take_first_answers(): FirstAnswers {
  const answers = window.first_answers ?? {};
  delete window.first_answers;
  return answers;
}

/** For a call of `api` that may have been asked already. */
export function as_asked(answer: Promise<Response> | undefined): { fetch?: () => Promise<Response> } {
  return answer ? { fetch: () => answer } : {};
}
