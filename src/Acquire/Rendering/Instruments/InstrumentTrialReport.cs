using Acquire.Bench.Instruments;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Monitoring;

namespace Acquire.Rendering.Instruments;

/// <summary>An instrument that was tried.</summary>
/// <param name="Known">What is said of it; null for one that was not added.</param>
internal sealed record TriedInstrument(InstrumentSetup Setup, Instrument? Known, TrialResult Result);

/// <summary>Whether the profile of an instrument fits what came.</summary>
internal static class InstrumentTrialReport
{
    public static void Write(IAnsiConsole console, TriedInstrument tried, bool json)
    {
        var (setup, _, result) = tried;
        if (json)
        {
            JsonOutput.Write(console, new
            {
                Instrument = setup.Name,
                Port = setup.Address.ToString(),
                Profile = setup.Profile.Name,
                Settings = LinkWords.Of(setup.Settings),
                Fit = char.ToLowerInvariant(result.Fit.ToString()[0]) + result.Fit.ToString()[1..],
                result.Readings,
                result.Bytes.Bytes,
                Unmatched = result.Events.Count(e => e is InstrumentEvent.UnmatchedLine),
                Lines = result.Events.Select(e => new
                {
                    e.Line.Text,
                    Meaning = e.Meaning.Word(),
                    Densities = (e as InstrumentEvent.ReadingTaken)?.Reading.Densities is { } read
                        ? new { Red = read.Red?.Value, Green = read.Green?.Value, Blue = read.Blue?.Value, Visual = read.Visual?.Value }
                        : null,
                }),
                DisplayStep = result.Step,
                OtherProfiles = result.Others.Select(p => p.Name),
                Advice = Advice(tried),
            });
            return;
        }

        console.Line(Verdict(setup, result));
        if (result.Fit is ProfileFit.FitsNot or ProfileFit.Partly)
        {
            if (result.Unfinished.Length > 0)
            {
                console.Line($"  without a line end: {result.Unfinished}");
            }

            console.Line($"  {TallyWords.LineEnds(result.Bytes)}");
            console.Line($"  {TallyWords.Parity(result.Bytes)}");
        }

        foreach (var advice in Advice(tried))
        {
            console.Line($"  {advice}");
        }
    }

    private static string Verdict(InstrumentSetup setup, TrialResult result)
    {
        var lines = Numbers.Count(result.Events.Length, "line");
        return result.Fit switch
        {
            ProfileFit.Fits => $"The profile {setup.Profile.Name} fits: {Numbers.Count(result.Readings, "reading")} in {lines}.",
            ProfileFit.Partly =>
                $"The profile {setup.Profile.Name} fits in part: {Numbers.Count(result.Readings, "reading")} in {lines}, and "
                + $"{Numbers.Count(result.Events.Count(e => e is InstrumentEvent.UnmatchedLine), "line")} that it does not know.",
            ProfileFit.NoReading => $"The profile {setup.Profile.Name} knows what came, {lines}, and none was a reading.",
            ProfileFit.FitsNot => $"The profile {setup.Profile.Name} does not fit: no reading in {lines} and {result.Bytes.Bytes} bytes.",
            _ => $"Nothing came from {setup.Address}.",
        };
    }

    /// <summary>What to do next.</summary>
    private static ImmutableArray<string> Advice(TriedInstrument tried)
    {
        var (setup, known, result) = tried;
        var name = InstrumentReport.Quoted(setup.Name);
        var advice = ImmutableArray.CreateBuilder<string>();
        switch (result.Fit)
        {
            case ProfileFit.Nothing:
                advice.Add("Was a patch read? Look at the cable, at the instrument's output setting, and at the port: acquire ports. What "
                    + $"comes byte by byte: acquire listen --port {setup.Address} --hex");
                break;
            case ProfileFit.NoReading:
                advice.Add("Read a patch of film, in absolute mode, and try again.");
                break;
            case ProfileFit.Partly or ProfileFit.FitsNot when result.Others.IsEmpty:
                advice.Add("No profile that is known takes every line. Learn one: acquire profile learn "
                    + $"--port {setup.Address}");
                break;
            case ProfileFit.Partly or ProfileFit.FitsNot:
                advice.Add(
                    $"{Numbers.Names([.. result.Others.Select(p => p.Name)])} {(result.Others.Length == 1 ? "takes" : "take")} every "
                    + "line; hold the numbers against the display before you trust one: acquire instrument try "
                    + $"{(known is null ? "" : name + " ")}--port {setup.Address} --profile {result.Others[0].Name}");
                break;
            default:
                break;
        }

        if (known?.DisplayStep is { } said && result.Step is { } shown && Math.Abs(said - shown) > 1e-9)
        {
            advice.Add(string.Create(
                CultureInfo.InvariantCulture, $"It sends steps of {shown}, and {said} is said of it: acquire instrument "
                + $"set {name} --display-step {shown}"));
        }

        return advice.ToImmutable();
    }
}
