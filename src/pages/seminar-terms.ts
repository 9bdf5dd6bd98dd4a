// The words of a seminar pack in English and French. French is the language fencing is refereed in; its terms are those
// referees use (from memory of the trade, to be checked against the French text of the rules where one differs).

import { caution } from "../figures/caution";
import type { Action, CardColour, Doer } from "../bout/words";
import type { HaltReason } from "../figures/seminar-format";

export const languages = ["en", "fr"] as const;
export type Language = (typeof languages)[number];
export type Who = "left" | "right" | "both" | "none" | "nobody";

interface Terms {
  readonly actions: Readonly<Record<Action, string>>;
  /** Whose action it is, as it is told in this language. */
  readonly told: (doer: Doer, action: string) => string;
  readonly why: Readonly<Record<HaltReason, string>>;
  readonly who: Readonly<Record<Who, string>>;
  readonly hit: Readonly<Record<"valid" | "off-target" | "not valid" | "none", string>>;
  readonly cards: Readonly<Record<CardColour, string>>;
  readonly sure: Readonly<Record<1 | 2 | 3 | 4, string>>;
  readonly questions: Readonly<Record<Question, string>>;
  readonly said: typeof english;
  /** What stands at the foot of the page. */
  readonly caution: readonly string[];
}
export type Question =
  | "why"
  | "opener"
  | "actions"
  | "hitLeft"
  | "hitRight"
  | "award"
  | "card"
  | "sure"
  | "lifting"
  | "feet"
  | "earlyStart"
  | "looseChair";

const english = {
  language: "Langue : français",
  name: "Your name",
  as: "You answer as",
  reader: "a reader",
  forReference: "one of the panel that sets the reference",
  role: "Your role on the panel",
  way: "How the clips are shown",
  live: "As live: once, at speed, with a fixed time to answer",
  monitor: "At the monitor: at most four showings, at any speed",
  begin: "Begin",
  goOn: "Go on where you stopped",
  load: "Go on from a file saved before",
  many: "clips",
  seconds: "seconds to answer each",
  lampsHidden: "The lamps are hidden in this pack: a drill.",
  revealed: "This pack shows what the reference holds after each answer.",
  notRevealed: "The pack holds no answer. Save yours to a file at the end and send it back.",
  notKept: "This browser keeps nothing once the page is closed. Save to a file before you close it.",
  kept: "Your answers are kept in this browser: you may close the page and go on later.",
  clip: "Clip",
  of: "of",
  ready: "Ready? The clip is shown when you press the key.",
  show: "Play the clip",
  showAgain: "Show it again",
  shown: "showings left",
  pause: "Pause",
  resume: "Play on",
  frame: "One frame on",
  speed: "Speed",
  left: "seconds left",
  up: "The time is up. What you had answered is kept.",
  next: "Next clip",
  takeBack: "Take the last one back",
  noActions: "No action yet",
  noActionsAtAll: "no action",
  noCard: "no card",
  cardTo: "to",
  group: "Group",
  noGroup: "no group",
  done: "All clips are answered.",
  save: "Save the answers to a file",
  saveSoFar: "Save what is answered so far",
  send: "Send the file back to whoever gave you the pack. Nothing was sent by this page.",
  answered: "answered",
  reference: "The reference holds",
  yours: "You said",
  forDiscussion: "The panel does not agree on this clip: for discussion.",
  cantPlay: "This clip can't be shown here. Is the folder clips beside the page? Go on with the next one.",
  keys: "Keys",
  keysWhat:
    "Enter: next question; at the last one, next clip. Numbers: the choice of that number. P: play, pause. Period: one frame on. G left, H right, B both, N nobody. Backspace: take the last action back.",
  keysActions:
    "Actions, left hand for the left fencer, right hand for the right: F and J attack, D and K parry, S and L riposte, A and ; counter-attack, R and U remise, E and I point in line, W and O lean back, B both attack. Keys go by their place on an English keyboard.",
  badName: 'Write your name: at most 60 letters, without / \\ : * ? " < > | or a dot at either end.',
  badFile: "That file can't be used:",
  otherPack: "it is of another pack.",
  frozen: "The picture stands still before the first signal, and the sound stops there.",
  card: "Card",
  notAnswered: "not answered",
};

const en: Terms = {
  actions: {
    attack: "attack",
    "compound attack": "compound attack",
    "counter-time": "counter-time",
    riposte: "riposte",
    "counter-riposte": "counter-riposte",
    "counter-attack": "counter-attack",
    "stop hit": "stop hit",
    remise: "remise",
    redoublement: "redoublement",
    reprise: "reprise",
    "point in line": "point in line",
    derobement: "derobement",
    parry: "parry",
    "counter-parry": "counter-parry",
    beat: "beat",
    "taking the blade": "taking the blade",
    feint: "feint",
    preparation: "preparation",
    "lean back": "lean back",
    "lean in": "lean in",
  },
  told: (doer, action) => `${doer} ${action}`,
  why: {
    touch: "touch",
    "off-target": "off target",
    simultaneous: "simultaneous",
    undecided: "I abstain",
    "early start": "early start",
    balance: "loss of balance",
    lifted: "lifted from the seat",
    "loose chair or lead": "loose chair or lead",
    time: "time",
    equipment: "equipment",
    other: "another reason",
  },
  who: { left: "left", right: "right", both: "both", none: "no touch", nobody: "nobody" },
  hit: { valid: "valid", "off-target": "off target", "not valid": "not valid", none: "did not arrive" },
  cards: {
    yellow: "yellow",
    red: "red",
    black: "black",
    "P-yellow": "P-yellow",
    "P-red": "P-red",
    "P-black": "P-black",
  },
  sure: { 1: "guessing", 2: "rather unsure", 3: "rather sure", 4: "certain" },
  questions: {
    why: "Why was it halted?",
    opener: "Who opened?",
    actions: "The actions, in order",
    hitLeft: "The left fencer's hit",
    hitRight: "The right fencer's hit",
    award: "Whose touch?",
    card: "A card?",
    sure: "How sure are you?",
    lifting: "Who lifted from the seat?",
    feet: "Whose feet left the footrest or touched the ground?",
    earlyStart: "Who started before the command?",
    looseChair: "Whose chair or lead came loose?",
  },
  said: english,
  caution,
};

const fr: Terms = {
  actions: {
    attack: "attaque",
    "compound attack": "attaque composée",
    "counter-time": "contre-temps",
    riposte: "riposte",
    "counter-riposte": "contre-riposte",
    "counter-attack": "contre-attaque",
    "stop hit": "coup d'arrêt",
    remise: "remise",
    redoublement: "redoublement",
    reprise: "reprise",
    "point in line": "pointe en ligne",
    derobement: "dérobement",
    parry: "parade",
    "counter-parry": "contre-parade",
    beat: "battement",
    "taking the blade": "prise de fer",
    feint: "feinte",
    preparation: "préparation",
    "lean back": "retrait du buste",
    "lean in": "avancée du buste",
  },
  told: (doer, action) => `${action} ${{ left: "de gauche", right: "de droite", both: "des deux" }[doer]}`,
  why: {
    touch: "touche",
    "off-target": "non valable",
    simultaneous: "simultané",
    undecided: "je m'abstiens",
    "early start": "départ anticipé",
    balance: "perte d'équilibre",
    lifted: "décollement du siège",
    "loose chair or lead": "fauteuil ou fil détaché",
    time: "temps",
    equipment: "matériel",
    other: "autre raison",
  },
  who: { left: "gauche", right: "droite", both: "les deux", none: "pas de touche", nobody: "personne" },
  hit: { valid: "touche valable", "off-target": "non valable", "not valid": "annulée", none: "pas arrivé" },
  cards: {
    yellow: "jaune",
    red: "rouge",
    black: "noir",
    "P-yellow": "P-jaune",
    "P-red": "P-rouge",
    "P-black": "P-noir",
  },
  sure: { 1: "au hasard", 2: "plutôt pas sûr", 3: "plutôt sûr", 4: "certain" },
  questions: {
    why: "Pourquoi halte ?",
    opener: "Qui a pris l'initiative ?",
    actions: "Les actions, dans l'ordre",
    hitLeft: "Le coup du tireur de gauche",
    hitRight: "Le coup du tireur de droite",
    award: "À qui la touche ?",
    card: "Un carton ?",
    sure: "En êtes-vous sûr ?",
    lifting: "Qui a décollé du siège ?",
    feet: "Quels pieds ont quitté le repose-pieds ou touché le sol ?",
    earlyStart: "Qui est parti avant « Allez ! » ?",
    looseChair: "Quel fauteuil ou fil s'est détaché ?",
  },
  caution: [
    "Ces chiffres décrivent ce qui a été noté ; ils ne sont pas un résultat officiel. La décision de l'arbitre et le règlement en vigueur prévalent.",
    "Ayez l'accord des personnes filmées, et respectez les règles sur les mineurs et les données de santé : la catégorie d'un athlète para est une donnée de santé.",
    "Les blessures et le matériel relèvent du personnel médical et des officiels habilités.",
  ],
  said: {
    language: "Language: English",
    name: "Votre nom",
    as: "Vous répondez comme",
    reader: "lecteur",
    forReference: "membre du jury qui fixe la référence",
    role: "Votre fonction dans le jury",
    way: "Comment les séquences sont montrées",
    live: "Comme en direct : une fois, à vitesse réelle, temps de réponse fixe",
    monitor: "Au moniteur : quatre visions au plus, à toute vitesse",
    begin: "Commencer",
    goOn: "Reprendre où vous étiez",
    load: "Reprendre depuis un fichier enregistré",
    many: "séquences",
    seconds: "secondes pour répondre à chacune",
    lampsHidden: "Les lampes sont cachées : un exercice.",
    revealed: "Ce dossier montre la référence après chaque réponse.",
    notRevealed:
      "Le dossier ne contient aucune réponse. Enregistrez les vôtres à la fin et renvoyez le fichier.",
    notKept: "Ce navigateur ne garde rien après la fermeture. Enregistrez un fichier avant de fermer.",
    kept: "Vos réponses sont gardées dans ce navigateur : vous pouvez fermer et reprendre plus tard.",
    clip: "Séquence",
    of: "sur",
    ready: "Prêt ? La séquence part quand vous appuyez.",
    show: "Montrer la séquence",
    showAgain: "La revoir",
    shown: "visions restantes",
    pause: "Pause",
    resume: "Continuer",
    frame: "Une image de plus",
    speed: "Vitesse",
    left: "secondes restantes",
    up: "Le temps est écoulé. Vos réponses sont gardées.",
    next: "Séquence suivante",
    takeBack: "Retirer la dernière",
    noActions: "Pas encore d'action",
    noActionsAtAll: "aucune action",
    noCard: "pas de carton",
    cardTo: "à",
    group: "Groupe",
    noGroup: "sans groupe",
    done: "Toutes les séquences ont leur réponse.",
    save: "Enregistrer les réponses dans un fichier",
    saveSoFar: "Enregistrer les réponses jusqu'ici",
    send: "Renvoyez le fichier à qui vous a donné le dossier. Cette page n'a rien envoyé.",
    answered: "réponses",
    reference: "La référence",
    yours: "Vous avez dit",
    forDiscussion: "Le jury n'est pas d'accord : à discuter.",
    cantPlay:
      "Cette séquence ne peut être montrée ici. Le dossier clips est-il à côté de la page ? Passez à la suivante.",
    keys: "Touches du clavier",
    keysWhat:
      "Entrée : question suivante ; à la dernière, séquence suivante. Chiffres : le choix de ce rang. P : lecture, pause. Point : une image de plus. G gauche, H droite, B les deux, N personne. Retour arrière : retirer la dernière action.",
    keysActions:
      "Actions, main gauche pour le tireur de gauche, main droite pour celui de droite : F et J attaque, D et K parade, S et L riposte, A et ; contre-attaque, R et U remise, E et I pointe en ligne, W et O retrait du buste, B attaque des deux. Les touches valent par leur place sur un clavier anglais.",
    badName: 'Écrivez votre nom : 60 lettres au plus, sans / \\ : * ? " < > | ni point au début ou à la fin.',
    badFile: "Ce fichier ne peut servir :",
    otherPack: "il est d'un autre dossier.",
    frozen: "L'image s'arrête avant le premier geste, le son aussi.",
    card: "Carton",
    notAnswered: "sans réponse",
  },
};

export const seminarTerms: Readonly<Record<Language, Terms>> = { en, fr };
export type { Terms };
