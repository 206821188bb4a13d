using Acquire.Analysis.Gauge;
using Acquire.Bench.Trust;

namespace Acquire.Commands.Strips;

/// <summary><c>acquire strip assume</c>: what is taken for granted of an instrument of which too little is known.</summary>
internal static class StripAssumeCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var repeatability = Given.Option<double?>(
            "--repeatability", "S", "Standard deviation of one re-placed read at density 0, 0.0005 to 0.1; usual 0.010.");
        var freedom = Given.Option<double?>(
            "--freedom", "N", "How many degrees of freedom that is worth, 1 to 100; usual 5. The fewer, the wider the first intervals.");
        var zero = Given.Option<double?>(
            "--zero", "Z", "Half of the width within which a zero is set, in density, 0 to 0.1; usual 0.0125.");
        var usual = new Option<bool>("--usual") { Description = "Back to what is usual." };
        var command = new Command(
            "assume", "Settle what is assumed of an instrument until its own repeats and checks tell; shows it when nothing is given.")
        {
            repeatability, freedom, zero, usual,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var folder = DataFolder.Resolve(parsed.GetValue(Common.Data));
            var settings = Settings.Of(folder);
            var before = parsed.GetValue(usual) ? new AssumedSettings() : settings.Assumed ?? new AssumedSettings();
            var wanted = new AssumedSettings(
                parsed.GetValue(repeatability) ?? before.Repeatability,
                parsed.GetValue(freedom) ?? before.RepeatabilityFreedom,
                parsed.GetValue(zero) ?? before.Zero);
            var assumed = wanted.ToAssumptions();
            if (wanted != (settings.Assumed ?? new AssumedSettings()))
            {
                await (settings with { Assumed = wanted }).SaveAsync(folder, cancellationToken);
            }

            Write(surroundings.Out, assumed);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, Assumptions assumed)
    {
        console.Line(
            "Assumed of an instrument of which too little is known (common practice, no source); its own repeats and checks take over:");
        console.Line(string.Create(
            CultureInfo.InvariantCulture,
            $"  assumed repeatability  {assumed.Repeatability:0.000###}, the standard deviation of one re-placed read at density 0"));
        console.Line(string.Create(
            CultureInfo.InvariantCulture, $"  it is worth            {assumed.RepeatabilityFreedom:0.##} degrees of freedom"));
        console.Line(string.Create(
            CultureInfo.InvariantCulture, $"  assumed zero           set anywhere within ±{assumed.Zero:0.000###} at each sitting"));
    }
}
