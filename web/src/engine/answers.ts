/** What the engine's server takes and gives, by the names that the page has for it. The types
 *  themselves are made from docs/openapi.json: see web/README.md. */
import type { components } from './interface';

type Schemas = components['schemas'];

/** A file as the page holds it. `name` is its path relative to the library folder. */
export type Text = Schemas['Text'];
export type Diagnostic = Schemas['Diagnostic'];
export type LibraryFile = Schemas['ListedFile'];
export type VehicleType = Schemas['VehicleType'];
export type TypePantograph = Schemas['RoofPantograph'];
export type Library = Schemas['Library'];
export type LibraryText = Schemas['File'];
export type WrittenFile = Schemas['FileWritten'];
/** Files from elsewhere, and what they would make of a file of the library. */
export type TakeInQuestion = Schemas['TakeInRequest'];
export type TakenIn = Schemas['TakenIn'];

/** The keys of each kind of file that a form writes, and a text with changes made to it. */
export type Forms = Schemas['Forms'];
export type FormField = Schemas['FormField'];
export type FormKey = Schemas['FormKey'];
export type FormChange = Schemas['FormChange'];
export type FormQuestion = Required<Omit<Schemas['FormRequest'], 'day'>>;
export type FormAnswer = Schemas['FormAnswer'];
export type FormMistake = FormAnswer['mistakes'][number];

export type VehicleItem = Schemas['VehicleItem'];
export type LoadItem = Schemas['LoadItem'];
export type LoadNature = LoadItem['nature'];
export type ConsistItem = VehicleItem | LoadItem;
export type TrainModel = Schemas['TrainModel'];

/** What `panup plan --format json` prints, with contingencies in short. */
export type Plan = Schemas['PlanInShort'];
export type PlannedSection = Schemas['section'];
export type Finding = Schemas['finding'];
export type Contingency = Schemas['ContingencyInShort'];
export type Instruction = Schemas['instruction'];
export type PlanAnswerWord = Schemas['answer'];
export type PlanVehicle = Plan['train']['vehicles'][number];
export type PlanPantograph = PlanVehicle['pantographs'][number];

export type RouteModel = Schemas['RouteModel'];
/** A train's way through a separation section. Positions `from_m` and `to_m` of stages are the
 *  front's, of zones the wire's, both in metres from the section's beginning. */
export type SeparationCourse = Schemas['SeparationCourse'];
export type Mark = Schemas['Mark'];
/** A drawing of the engine, in points from its upper left corner. `told` says it in words. */
export type Picture = Schemas['Picture'];
export type PlanAnswer = Schemas['PlanAnswer'];
/** The plans of a run, one for each part of it. */
export type RunAnswer = Schemas['RunAnswer'];
export type RunHead = Schemas['RunHead'];
/** What the card says of a pantograph that fails, place by place. */
export type FailureAnswer = Schemas['FailureAnswer'];
export type FailureUp = Schemas['FailureUp'];
export type WhyAnswer = Schemas['why-not.schema'];

/** A train that was changed by hand and is not written as a text yet. */
export type NamedModel = Schemas['NamedModel'];
/** What gives the speed of the raised pantographs. */
export type SpeedFrom = Plan['speed_from'];

/** The page leaves nothing of a question unsaid. At once there is a plan by the tables alone. */
export type ModelQuestion = Required<Schemas['PlanRequest']>;
/** The question that the plan on view answers: `part` is that of a run, null where there is none. */
export type PartQuestion = Required<Schemas['ReportRequest']> & { train: Text };
export type WhyQuestion = PartQuestion & Required<Schemas['WhyRequest']>;
export type FailureQuestion = PartQuestion & Required<Schemas['FailureRequest']>;
export type Language = ModelQuestion['language'];

/** The cases of working practice that the engine has, and what is asked of one of them. */
export type PracticeCases = Schemas['PracticeCases'];
export type PracticeCase = Schemas['PracticeCase'];
export type CaseQuestion = Required<Schemas['CasePlanRequest']>;
export type CaseWhyQuestion = Required<Schemas['CaseWhyRequest']>;

/** A day as its file says. */
export type Day = Schemas['Day'];
export type TrainOfDay = Schemas['TrainOfDay'];
/** What `panup day --format json` prints. */
export type PlannedDay = Schemas['day.schema'];
export type DayOutcome = PlannedDay['trains'][number];
export type Decision = DayOutcome['decision'];
/** What `panup day --if … --format json` prints. */
export type Comparison = Schemas['day-what-if.schema'];
export type TrainChange = Comparison['trains'][number];

/** How the cards of a day stand, and what is asked and answered where some are issued. */
export type IssuedAnswer = Schemas['IssuedAnswer'];
export type CardStanding = Schemas['CardStanding'];
export type IssuedCard = Schemas['IssuedCard'];
export type IssueQuestion = Required<Schemas['IssueRequest']>;
export type IssueAnswer = Schemas['IssueAnswer'];
export type RefusedTrain = Schemas['NothingIssued']['trains'][number];

export type JobState = Schemas['JobState'];
export type JobRequest = Schemas['JobRequest'];
