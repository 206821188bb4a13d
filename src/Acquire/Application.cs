using Acquire.Commands;
using Acquire.Commands.Books;
using Acquire.Commands.Files;
using Acquire.Commands.Instruments;
using Acquire.Commands.Lots;
using Acquire.Commands.Processes;
using Acquire.Commands.Readings;
using Acquire.Commands.Safety;
using Acquire.Commands.Service;
using Acquire.Commands.Strips;
using Acquire.Commands.Studies;
using Acquire.Demo;

namespace Acquire;

/// <summary>The command line as a whole.</summary>
internal static class Application
{
    /// <summary>Runs one command and gives its exit code.</summary>
    public static async Task<int> RunAsync(string[] args, Surroundings surroundings)
    {
        var parsed = Build(surroundings).Parse(args);
        if (parsed.Errors.Count > 0)
        {
            foreach (var error in parsed.Errors)
            {
                surroundings.Error.Line(error.Message);
            }

            surroundings.Error.Line($"Try: acquire {CommandPath(parsed)}--help");
            return ExitCode.BadInput;
        }

        try
        {
            // Ctrl-C cancels the token; a reading then ends as cancelled, with all its lines kept. Without a time-out signals are not
            // listened for.
            var code = await parsed.InvokeAsync(new InvocationConfiguration
            {
                EnableDefaultExceptionHandler = false,
                Output = surroundings.Out.Profile.Out.Writer,
                Error = surroundings.Error.Profile.Out.Writer,
                ProcessTerminationTimeout = surroundings.EndsOnSignalWithin,
            });
            // What was shown may be right and yet not all: a script must learn that records were left out.
            return LostStore.TellLeftOut(surroundings) ? ExitCode.NoStore : code;
        }
        catch (OperationCanceledException)
        {
            surroundings.Error.Line("Stopped.");
            return ExitCode.BadInput;
        }
        catch (Exception fault) when (Faults.CodeOf(fault) is { } code)
        {
            _ = LostStore.TellLeftOut(surroundings);
            surroundings.Error.Line(fault.Message);
            await LostStore.AdviseAsync(fault, parsed, surroundings);
            return code;
        }
    }

    internal static RootCommand Build(Surroundings surroundings) =>
        new("Is the colour process in control? Reads control strips on a densitometer and judges them.")
        {
            Common.Data,
            Common.Verbose,
            DemoCommand.Build(surroundings),
            ServeCommand.Build(surroundings),
            TokenCommand.Build(surroundings),
            SimulateCommand.Build(surroundings),
            ReadCommand.Build(surroundings),
            ResumeCommand.Build(surroundings),
            SessionCommand.Build(surroundings),
            LotCommand.Build(surroundings),
            StripCommand.Build(surroundings),
            ChartCommand.Build(surroundings),
            CausesCommand.Build(surroundings),
            LifeCommand.Build(surroundings),
            DailyCommand.Build(surroundings),
            ReportCommand.Build(surroundings),
            ExportCommand.Build(surroundings),
            ImportCommand.Build(surroundings),
            BackupCommand.Build(surroundings),
            VerifyCommand.Build(surroundings),
            RestoreCommand.Build(surroundings),
            InstrumentCommand.Build(surroundings),
            ListenCommand.Build(surroundings),
            PortsCommand.Build(surroundings),
            ReplayCommand.Build(surroundings),
            ProfileCommand.Build(surroundings),
            ProcessCommand.Build(surroundings),
            PlaqueCommand.Build(surroundings),
            CheckCommand.Build(surroundings),
            RepeatabilityCommand.Build(surroundings),
            StatsCommand.Build(surroundings),
            LineCommand.Build(surroundings),
            SolutionCommand.Build(surroundings),
            BottleCommand.Build(surroundings),
            UseCommand.Build(surroundings),
            EventCommand.Build(surroundings),
            UndoCommand.Build(surroundings),
        };

    private static string CommandPath(ParseResult parsed)
    {
        var names = new Stack<string>();
        for (var command = parsed.CommandResult; command.Parent is System.CommandLine.Parsing.CommandResult parent; command = parent)
        {
            names.Push(command.Command.Name + " ");
        }

        return string.Concat(names);
    }
}
