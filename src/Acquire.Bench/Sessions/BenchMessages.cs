using Acquire.Instruments.Lines;

namespace Acquire.Bench.Sessions;

/// <summary>What the bench says about a line that is not taken for a reading, and what to do about it.</summary>
internal static class BenchMessages
{
    public const string AlreadyComplete = "All patches are read; this reading is kept in the session but counts for no patch.";

    public const string NothingIsAsked = "Nothing is asked.";

    public const string AnswerFirst = "A question is open: answer it with y or n first, then the strip is kept.";

    public static string MissingChannels(ImmutableArray<Channel> missing) =>
        $"The reading has no {string.Join(", ", missing.Select(c => c.Word()))} density, which is needed here. "
        + "Set the instrument to send all channels, then read the patch again.";

    public static string Of(InstrumentEvent received) => received switch
    {
        InstrumentEvent.BeyondRange { Channels: { IsEmpty: false } channels } =>
            $"Beyond the instrument's range in {string.Join(", ", channels.Select(c => c.Word()))}: not taken. "
            + "Check that the patch lies under the aperture and read it again, or leave the patch out.",
        InstrumentEvent.BeyondRange =>
            "Beyond the instrument's range: not taken. Check that the patch lies under the aperture and read it again, or leave the patch out.",
        InstrumentEvent.InstrumentError { Line: var line } => $"The instrument reports '{line.Text.Trim()}': not taken. Read the patch again.",
        InstrumentEvent.UnmatchedLine { Line: var line, Reason: var reason } =>
            $"A line fits nothing in the profile: '{line.Text}'. {reason.TrimEnd('.')}. It is kept, not guessed at; "
            + "if it was a reading, read the patch again.",
        _ => received.Line.Text,
    };
}
