using Acquire.Analysis.Judgement;

namespace Acquire.Rendering.Strips;

/// <summary>What a speed point means by ISO 6, in a sentence.</summary>
internal static class SpeedNote
{
    public static string? Of(ParameterResult result)
    {
        if (result is not { Speed: { } speed, Value: { } logH })
        {
            return null;
        }

        var what = speed.Speed is { } s
            ? Text($"log H {logH:0.00}, speed 0.8 / Hm = {s:0.#} by the arithmetic of ISO 6 (from memory)")
            : Text($"log H {logH:0.00} on the strip's own scale, so only its shift from aim means something");
        return (speed.DensityRise, speed.Fits) switch
        {
            ({ } rise, true) => Text($"{what}; {rise:0.00} denser 1.30 log H further, as ISO 6 asks (0.80 ± 0.05)."),
            ({ } rise, _) => Text($"{what}; {rise:0.00} denser 1.30 log H further, where ISO 6 asks for 0.80 ± 0.05."),
            _ => $"{what}; the strip ends before 1.30 log H further.",
        };
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
