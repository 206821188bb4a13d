using Acquire.Bench.Instruments;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Rendering.Instruments;
using Acquire.Rendering.Monitoring;
using Acquire.Terminal;

namespace Acquire.Commands.Instruments;

/// <summary><c>acquire instrument try</c>: opens an instrument's port, shows what comes, and says whether the profile fits.</summary>
internal static class InstrumentTryCommand
{
    /// <summary>The most seconds: a trial that runs on is <c>listen</c>.</summary>
    private const double Longest = 3600;

    public static Command Build(Surroundings surroundings)
    {
        var name = Given.Argument<string?>("name", "NAME", "The instrument; need not be said where only one is in use.");
        name.Arity = ArgumentArity.ZeroOrOne;
        var port = Given.Option<string?>("--port", "PORT", "Another port, this once.");
        var profile = Given.Option<string?>("--profile", "PROFILE", "Its device profile, for one that was not added.");
        var baud = Common.Baud();
        var seconds = new Option<double>("--seconds")
        {
            Description = "End after so long.", HelpName = "N", DefaultValueFactory = _ => 30,
        };
        var readings = new Option<int>("--readings")
        {
            Description = "End after so many readings.", HelpName = "N", DefaultValueFactory = _ => 3,
        };
        seconds.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<double>() is not (> 0 and <= Longest))
            {
                result.AddError($"--seconds takes more than 0 and up to {Longest} seconds.");
            }
        });
        readings.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<int>() < 1)
            {
                result.AddError("--readings takes 1 or more.");
            }
        });
        var json = Common.Json();
        var command = new Command("try", "Open an instrument's port, show what comes, and say whether the profile fits. Exit code 1 where "
            + "it does not. Nothing is kept.")
        {
            name, port, profile, baud, seconds, readings, json,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var choice = new InstrumentChoice(
                parsed.GetValue(name), parsed.GetValue(port), parsed.GetValue(profile), parsed.GetValue(baud));
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var (setup, notice) = await InstrumentOptions.Book(parsed, store, surroundings).ForTrialAsync(choice, cancellationToken);
            if (notice is not null)
            {
                surroundings.Error.Line(notice);
            }

            var known = (await store.ListInstrumentsAsync(cancellationToken)).FirstOrDefault(i => Keys.Same(i.Name, setup.Name));
            using var logs = Common.Logs(parsed);
            using var key = AnyKey.Watch(surroundings, cancellationToken);
            var bounds = new TrialBounds(TimeSpan.FromSeconds(parsed.GetValue(seconds)), parsed.GetValue(readings));
            var begun = surroundings.Time.GetTimestamp();
            var result = await new InstrumentTrial(
                Common.Profiles(parsed), Common.Links(parsed, surroundings, logs), surroundings.Time).RunAsync(
                setup, bounds, Begun, Show, key.Token, cancellationToken);
            InstrumentTrialReport.Write(surroundings.Out, new TriedInstrument(setup, known, result), parsed.GetValue(json));
            return result.Fit == ProfileFit.Fits ? ExitCode.Done : ExitCode.OutOfControl;

            void Begun(ImmutableArray<string> notices)
            {
                foreach (var notice in notices)
                {
                    surroundings.Error.Line($"  {notice}");
                }

                surroundings.Error.Line(
                    $"{setup.Name} on {setup.Address}, {LinkWords.Of(setup.Settings)}, profile {setup.Profile.Name}. Read a patch or "
                    + $"two; it ends after {Numbers.Count(bounds.Readings, "reading")}, after {bounds.Longest.TotalSeconds:0.#} s"
                    + (surroundings.HasKeyboard ? ", or with any key." : "."));
            }

            void Show(InstrumentEvent received) =>
                surroundings.Error.Line("  " + EventLine.Of(received, surroundings.Time.GetElapsedTime(begun)));
        });
        return command;
    }
}
