// "Run": the board, its time, the hands, the chart and the reasons.

import { useLayoutEffect } from "preact/hooks";
import { lesson } from "../../lesson";
import { Notes } from "../lesson/Notes";
import { Board } from "./Board";
import { BoardFoot, useBoardFit } from "./BoardFoot";
import { ChartView } from "./ChartView";
import { watchEnd } from "./ending";
import { watchHands } from "./hands";
import { boardKey } from "./keys";
import { Answered, InWords, JustNow, Notices, Story, WhyButton } from "./Reasons";
import { Hands, StayHint } from "./Strip";
import { RunStrip, TimeStrip } from "./Time";
import { asking } from "./why";

export function Run() {
	useLayoutEffect(() => {
		document.addEventListener("keydown", boardKey);
		document.addEventListener("keyup", boardKey);
		const stops = [watchHands(), watchEnd()];
		return () => {
			document.removeEventListener("keydown", boardKey);
			document.removeEventListener("keyup", boardKey);
			asking.value = false;
			for (const stop of stops) stop();
		};
	}, []);
	return (
		<div class="run">
			<TimeStrip />
			<JustNow />
			<div class="run-board">
				<Board fit={useBoardFit()} />
				<BoardFoot />
				<InWords />
			</div>
			<div class="run-margin">
				{lesson && <Notes />}
				<RunStrip />
				<Hands />
				<StayHint />
				<div class="reasons">
					<WhyButton />
					<Answered />
					<Notices />
					<Story />
				</div>
				{!lesson && <Notes />}
			</div>
			<div class="run-chart">
				<ChartView />
			</div>
		</div>
	);
}
