namespace Acquire.Analysis.Gauge;

/// <summary>What a calibration check tells.</summary>
/// <param name="Channels">Channel by channel, in the usual order.</param>
/// <param name="Verdict">Fail when a channel fails, pass when all pass.</param>
/// <param name="Notes">What the user should know of the numbers, in words.</param>
public sealed record CalibrationReport(ImmutableArray<ChannelCalibration> Channels, CheckVerdict Verdict, ImmutableArray<string> Notes)
{
    /// <summary>A channel; null when it was not checked.</summary>
    public ChannelCalibration? this[Channel channel] => Channels.FirstOrDefault(c => c.Channel == channel);
}
