using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Commands.Instruments;

/// <summary><c>acquire profile</c>: device profiles.</summary>
internal static class ProfileCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("profile", "Device profiles: how instruments' lines are read.")
        {
            BuildList(surroundings),
            BuildTest(surroundings),
            ProfileLearnCommand.Build(surroundings),
        };

    private static Command BuildList(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("list", "List the profiles: those that come with the program, and your own.") { json };
        command.SetAction(parsed =>
        {
            var entries = Common.Profiles(parsed).List();
            var profiles = entries.Select(e => e.Profile).OfType<DeviceProfile>().ToList();
            var faults = entries.Select(e => e.Fault).OfType<ProfileException>().ToList();
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(surroundings.Out, profiles.Select(p => new { p.Name, p.Title, p.Description, p.Link.Baud }));
            }
            else
            {
                var table = Tables.New("profile", "line settings", "what it reads");
                foreach (var profile in profiles)
                {
                    table.Row(profile.Name, LinkWords.Of(profile.Link), profile.Title);
                }

                surroundings.Out.WriteTable(table);
            }

            foreach (var fault in faults)
            {
                surroundings.Error.Line(fault.Message);
            }

            return faults.Count == 0 ? ExitCode.Done : ExitCode.BadInput;
        });
        return command;
    }

    private static Command BuildTest(Surroundings surroundings)
    {
        var file = Given.Argument<string>("file", "FILE", "The profile: a file, or a name that 'acquire profile list' shows.");
        var command = new Command("test", "Check a profile against its schema and prove its samples.") { file };
        command.SetAction(parsed =>
        {
            var profile = Common.Profiles(parsed).Find(parsed.GetRequiredValue(file));
            var table = Tables.New("sample", "gives");
            foreach (var sample in profile.Samples)
            {
                table.Row(
                    string.Join(" ⏎ ", sample.Lines), sample.Densities?.ToString() ?? sample.Identity?.ToString() ?? sample.Meaning.Word());
            }

            surroundings.Out.Line($"{profile.Name}: {profile.Title}");
            surroundings.Out.WriteTable(table);
            foreach (var (what, bytes) in profile.Commands.All)
            {
                surroundings.Out.Line($"{what}: {ByteText.Of(bytes.AsSpan())}");
            }

            surroundings.Out.Line($"All {profile.Samples.Length} samples give what they must.");
            return ExitCode.Done;
        });
        return command;
    }
}
