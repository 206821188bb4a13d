namespace Acquire.Analysis.Charts;

/// <summary>Something dated that belongs on a chart.</summary>
/// <param name="At">When it happened.</param>
/// <param name="Text">What happened, in the user's words.</param>
/// <param name="Kind">What kind of thing, in a word or two, such as <c>new mix</c>.</param>
public sealed record ChartEvent(DateTimeOffset At, string Text, string Kind);

/// <summary>An event with its place.</summary>
/// <param name="X">Its place on the date axis.</param>
/// <param name="Number">Its number on this chart, from 1, by which the list under the chart explains it.</param>
/// <param name="Event">What happened.</param>
public sealed record EventMark(double X, int Number, ChartEvent Event);
