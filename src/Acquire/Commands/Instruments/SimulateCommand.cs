using Acquire.Instruments.Profiles;
using Acquire.Instruments.Simulation;

namespace Acquire.Commands.Instruments;

/// <summary><c>acquire simulate</c>: a densitometer with a person at it, on a pseudo-terminal or a TCP port.</summary>
internal static class SimulateCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var profile = Common.Profile();
        profile.Required = false;
        profile.DefaultValueFactory = _ => "labelled-line";
        var story = new Option<string>("--story")
        {
            Description = $"What is true of the strips: {string.Join(", ", FilmStories.All.Select(s => s.Name))}.",
            HelpName = "NAME",
            DefaultValueFactory = _ => FilmStories.OnAim.Name,
        };
        story.AcceptOnlyFromAmong([.. FilmStories.All.Select(s => s.Name)]);
        var link = new Option<string?>("--link") { Description = "Make a symbolic link to the pseudo-terminal here.", HelpName = "PATH" };
        var tcp = Given.Option<int?>("--tcp", "PORT", "Listen on this TCP port of the loopback instead; 0 takes a free one.");
        var patches = Given.Option<string?>(
            "--patches", "KEYS", "Read only these patches, in this order, such as ld,hd; the whole strip when not given.");
        var reads = Common.Reads(3);
        var strips = new Option<int?>("--strips") { Description = "End after so many strips; on and on when not given.", HelpName = "N" };
        var pace = new Option<double>("--pace")
        {
            Description = "Seconds from one reading to the next.",
            HelpName = "S",
            DefaultValueFactory = _ => 2,
        };
        var seed = new Option<int>("--seed")
        {
            Description = "Determines all that is left to chance.",
            HelpName = "N",
            DefaultValueFactory = _ => 1,
        };
        var byHand = new Option<bool>("--by-hand") { Description = "Read when Enter is pressed here, a reading each time." };
        var told = new Option<bool>("--told")
        {
            Description = "Nobody presses its key: it reads only when the profile's trigger command is sent to it.",
        };
        var repeat = Share("--repeat", "a reading is sent twice, as when the key bounces");
        var skip = Share("--skip", "a patch is passed over");
        var garble = Share("--garble", "a bit of a line is flipped");
        var split = Share("--split", "a line comes in two pieces, cut anywhere");
        var error = Share("--error", "the instrument reports an error first");
        var deaf = Share("--deaf", "a command is not obeyed");
        var overRange = Given.Option<string?>("--over-range", "PATCH", "Key of a patch that is beyond the instrument's range.");
        var command = new Command(
            "simulate",
            "A simulated densitometer for trying things out, on a port of its own. It obeys the commands of its profile.")
        {
            profile, story, link, tcp, patches, reads, strips, pace, seed, byHand, told,
            repeat, skip, garble, split, error, deaf, overRange,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var film = Of(FilmStories.Get(parsed.GetRequiredValue(story)), parsed.GetValue(patches));
            var speaks = Common.Profiles(parsed).Find(parsed.GetRequiredValue(profile));
            var options = new SimulatedDensitometerOptions
            {
                Seed = parsed.GetValue(seed),
                ReadsPerPatch = parsed.GetValue(reads),
                Strips = parsed.GetValue(strips),
                BetweenReadings = TimeSpan.FromSeconds(parsed.GetValue(pace)),
                OnlyWhenTold = parsed.GetValue(told),
                Faults = new SimulatedFaults
                {
                    Repeat = parsed.GetValue(repeat),
                    Skip = parsed.GetValue(skip),
                    Garble = parsed.GetValue(garble),
                    Split = parsed.GetValue(split),
                    Error = parsed.GetValue(error),
                    Deaf = parsed.GetValue(deaf),
                    BeyondRangePatch = parsed.GetValue(overRange) is { } patch ? film.Layout.Get(patch).Key : null,
                },
            };
            if (Problem(options, speaks, parsed.GetValue(byHand)) is { } problem)
            {
                surroundings.Error.Line(problem);
                return ExitCode.BadInput;
            }

            await using ISimulatedPort port = parsed.GetValue(tcp) is { } number
                ? SimulatedTcpPort.Listen(number)
                : SimulatedPorts.Create(parsed.GetValue(link), surroundings.Time);
            var densitometer = new SimulatedDensitometer(speaks, film, port, options, surroundings.Time);
            surroundings.Out.Line(parsed.GetValue(link) ?? port.Address.ToString());
            surroundings.Error.Line($"{film.Title}; profile {speaks.Name}. Waiting for somebody to open the port; Ctrl-C ends.");
            var progress = new Telling(reading => surroundings.Error.Line(
                $"strip {reading.Strip + 1}, {film.Layout.Get(reading.PatchKey).Name}: {reading.Densities}{Mishap(reading.Faults)}"));
            await (parsed.GetValue(byHand)
                ? ByHandAsync(densitometer, film, options, progress, cancellationToken)
                : densitometer.RunAsync(progress, cancellationToken));
            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>The story with the patches that are to be read.</summary>
    private static FilmStory Of(FilmStory story, string? patches) => patches is null ? story : story with
    {
        Patches =
        [
            .. patches.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
                .Select(k => story.Layout.Get(k).Key)
                .Select(key => story.Patches.First(p => p.Patch.Key == key)),
        ],
    };

    private static async Task ByHandAsync(
        SimulatedDensitometer densitometer,
        FilmStory film,
        SimulatedDensitometerOptions options,
        Telling progress,
        CancellationToken cancellationToken)
    {
        for (var done = 0; done < (options.Strips ?? int.MaxValue); done++, densitometer.TakeNextStrip())
        {
            foreach (var patch in film.Patches.SelectMany(p => Enumerable.Repeat(p.Patch, options.ReadsPerPatch)))
            {
                if (await Task.Run(Console.In.ReadLine, cancellationToken).WaitAsync(cancellationToken) is null)
                {
                    return;
                }

                progress.Report(await densitometer.ReadPatchAsync(patch.Key, cancellationToken));
            }
        }
    }

    private static string? Problem(SimulatedDensitometerOptions options, DeviceProfile speaks, bool byHand)
    {
        if (options.OnlyWhenTold && (byHand || speaks.Commands.Trigger is null))
        {
            return byHand
                ? "--told and --by-hand cannot both begin a reading; give one of them."
                : $"Profile '{speaks.Name}' has no trigger command, so that it cannot be told to read; 'told-to-read' has one.";
        }

        try
        {
            options.Demand();
            return null;
        }
        catch (ArgumentException fault)
        {
            return fault.Message;
        }
    }

    private static string Mishap(ReadingFaults faults) => faults == ReadingFaults.None ? "" : $" ({faults.ToString().ToLowerInvariant()})";

    private static Option<double> Share(string name, string what) =>
        new(name) { Description = $"Probability that {what}, 0 to 1.", HelpName = "P" };

    /// <summary>Tells at once, on the caller's thread; the framework's own progress posts to others and may come out of order.</summary>
    private sealed class Telling(Action<SimulatedReading> tell) : IProgress<SimulatedReading>
    {
        public void Report(SimulatedReading value) => tell(value);
    }
}
