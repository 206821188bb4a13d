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
        var process = Common.Process();
        var kind = new Option<string>("--kind")
        {
            Description = $"What it is: {string.Join(", ", KindWords.All<LineKind>())}.",
            HelpName = "KIND",
            DefaultValueFactory = _ => "other",
        };
        var method = new MethodOptions();
        var command = new Command("add", "Add a process line.") { name, process, kind };
        method.AddTo(command);
        return BookOptions.Enters(command, surroundings, parsed => new LineRequest(
            parsed.GetRequiredValue(name),
            KindWords.Of<LineKind>(parsed.GetRequiredValue(kind)),
            Common.Processes(parsed).Get(parsed.GetRequiredValue(process)).Key,
            method.Of(parsed)));
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
        return BookOptions.Enters(command, surroundings, parsed => new MethodRequest(parsed.GetValue(name), method.Of(parsed)));
    }

    private static Command BuildList(Surroundings surroundings) => BookOptions.Shows(
        new Command("list", "List the process lines and the method in force."),
        surroundings,
        (_, books, cancellationToken) => books.LinesAsync(cancellationToken),
        LineReport.WriteList);

    private static Command BuildShow(Surroundings surroundings)
    {
        var name = new Argument<string>("name") { Description = "The line.", HelpName = "NAME" };
        var at = BookOptions.At("As it was at a time");
        return BookOptions.Shows(
            new Command("show", "Show a process line and every change of its method.") { name, at },
            surroundings,
            (parsed, books, cancellationToken) => books.LineAsync(parsed.GetRequiredValue(name), parsed.GetValue(at), cancellationToken),
            LineReport.WriteOne);
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

        public LineMethodSaid Of(ParseResult parsed) =>
            new(parsed.GetValue(_agitation), parsed.GetValue(_temperature), Amounts.Duration(parsed.GetValue(_time)));
    }
}
