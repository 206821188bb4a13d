namespace Acquire.Rendering.Charts;

/// <summary>The place a panel has on the sheet, in pixels.</summary>
/// <param name="Left">Left edge of its plot.</param>
/// <param name="Right">Right edge.</param>
/// <param name="Top">Upper edge.</param>
/// <param name="Bottom">Lower edge.</param>
internal readonly record struct ChartFrame(double Left, double Right, double Top, double Bottom);
