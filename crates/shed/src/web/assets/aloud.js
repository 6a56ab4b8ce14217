// Numbers said aloud by the browser's own voice, where it has one; everything works without.

const voice = "speechSynthesis" in window ? window.speechSynthesis : null;
export const canSpeak = voice !== null;

/** Says it; done when it has been said, or at once where nothing can be. @param {string} words @returns {Promise<void>} */
export function aloud(words) {
  if (!voice) return Promise.resolve();
  voice.cancel();
  return new Promise((resolve) => {
    const said = new SpeechSynthesisUtterance(words);
    said.lang = document.documentElement.lang;
    said.rate = 0.9;
    const end = () => {
      clearTimeout(late);
      resolve();
    };
    // A browser without a voice never says that it is done.
    const late = setTimeout(end, 1500 + 120 * words.length);
    said.addEventListener("end", end);
    said.addEventListener("error", end);
    voice.speak(said);
  });
}

export function quiet() {
  voice?.cancel();
}
