using Acquire.Bench.Books;
using Acquire.Rendering.Books;

namespace Acquire.Commands.Books;

/// <summary><c>acquire line</c>: tanks and processors, and how they are run.</summary>
internal static class LineCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("line", "Process lines: tanks and processors, and the method they are run by.")
        {
            BuildAdd(surroundings),
            BuildMethod(surroundings),
            BuildList(surroundings),
            BuildShow(surroundings),
        };

    private static Command BuildAdd(Surroundings surroundings)
    {
        var name = new Argument<string>("name") { Description = "Your name for the line.", HelpName = "NAME" };
        var process =
            new Option<string>("--process") { Description = "Key of the process sheet, such as c41.", HelpName = "KEY", Required = true };
        var kind = new Option<string>("--kind")
        {
            Description = $"What it is: {string.Join(", ", BookOptions.Words<LineKind>())}.",
            HelpName = "KIND",
            DefaultValueFactory = _ => "other",
        };
        var method = new MethodOptions();
        var command = new Command("add", "Add a process line.") { name, process, kind };
        method.AddTo(command);
        return new BookOptions().Enters(command, surroundings, (parsed, books, input, cancellationToken) => books.EnterAsync(
            input,
            (ledger, _, stamp) =>
            {
                var wanted = parsed.GetRequiredValue(name);
                if (ledger.Lines.FirstOrDefault(l => string.Equals(l.Name, wanted.Trim(), StringComparison.OrdinalIgnoreCase)) is { } there)
                {
                    throw new BenchException(
                        $"There is a line {there.Name} already. To change its method: "
                        + $"acquire line method \"{there.Name}\" --temperature 38");
                }

                var line = new ProcessLine(
                    stamp(), wanted,
                    BookOptions.Kind<LineKind>(parsed.GetValue(kind)!), Common.Processes(parsed).Get(parsed.GetRequiredValue(process)).Key);
                return method.IsGiven(parsed) ? [line, method.Of(parsed, stamp(), line.Id)] : [line];
            },
            cancellationToken));
    }

    private static Command BuildMethod(Surroundings surroundings)
    {
        var name = new Argument<string?>("name")
        {
            Description = "The line; the one used last when not given.",
            HelpName = "NAME",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var method = new MethodOptions();
        var command = new Command("method", "Enter a change of method; what is not named stays as it was.") { name };
        method.AddTo(command);
        return new BookOptions().Enters(command, surroundings, (parsed, books, input, cancellationToken) => books.EnterAsync(
            input,
            (ledger, at, stamp) =>
            {
                if (!method.IsGiven(parsed))
                {
                    throw new BenchException("Say what changed: --agitation, --temperature, --time, or more than one of them.");
                }

                return [method.Of(parsed, stamp(), Chosen.Line(ledger, parsed.GetValue(name), at, surroundings).Id)];
            },
            cancellationToken));
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("list", "List the process lines and the method in force.") { json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var books = await BookOptions.Books(store, surroundings).OpenAsync(cancellationToken);
            LineReport.WriteList(
                surroundings.Out,
                [.. books.Lines.Select(l => books.At(l, surroundings.Time.GetUtcNow()))],
                surroundings.Time,
                parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildShow(Surroundings surroundings)
    {
        var name = new Argument<string>("name") { Description = "The line.", HelpName = "NAME" };
        var at = BookOptions.At("As it was at a time");
        var json = Common.Json();
        var command = new Command("show", "Show a process line and every change of its method.") { name, at, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var darkroom = BookOptions.Books(store, surroundings);
            var books = await darkroom.OpenAsync(cancellationToken);
            var line = BookNames.Line(books, parsed.GetRequiredValue(name));
            LineReport.WriteOne(
                surroundings.Out, books, books.At(line, darkroom.When(parsed.GetValue(at))), surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>The options that name a method.</summary>
    private sealed class MethodOptions
    {
        private readonly Option<string?> _agitation =
            new("--agitation") { Description = "How film or solution is moved, such as \"lift every 15 s\".", HelpName = "TEXT" };
        private readonly Option<double?> _temperature = new("--temperature") { Description = "Of the developer, in °C.", HelpName = "C" };
        private readonly Option<string?> _time = new("--time") { Description = "In the developer, such as 3:15.", HelpName = "M:SS" };

        public void AddTo(Command command)
        {
            command.Options.Add(_agitation);
            command.Options.Add(_temperature);
            command.Options.Add(_time);
        }

        public bool IsGiven(ParseResult parsed) =>
            parsed.GetValue(_agitation) is not null || parsed.GetValue(_temperature) is not null || parsed.GetValue(_time) is not null;

        public LineMethod Of(ParseResult parsed, EntryStamp stamp, Guid line) =>
            new(stamp, line, parsed.GetValue(_agitation), parsed.GetValue(_temperature), BookOptions.Duration(parsed.GetValue(_time)));
    }
}
