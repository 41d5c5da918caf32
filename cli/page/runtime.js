// What the charts need of the charting runtime, and no more.
import {transforms} from 'vega-dataflow';
import * as basic from 'vega-transforms';
import * as view from 'vega-view-transforms';
import * as encode from 'vega-encode';
import {View} from 'vega-view';
import {parse} from 'vega-parser';
import {expressionInterpreter} from 'vega-interpreter';

Object.assign(transforms, basic, view, encode);
globalThis.charting = {parse, View, expressionInterpreter};
