using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using Acquire.Analysis.Plausibility;

namespace Acquire.Bench.Sessions;

/// <summary>
/// What the user may do beside the instrument's own key. What changes the strip is a decision: it is in the journal, as JSON under the
/// word given here, before it is carried out. A word that is in a journal somewhere never changes.
/// </summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "do")]
[JsonDerivedType(typeof(Undo), "undo")]
[JsonDerivedType(typeof(ReadPatchAgain), "read_patch_again")]
[JsonDerivedType(typeof(LeaveOutRead), "leave_out_read")]
[JsonDerivedType(typeof(LeaveOutPatch), "leave_out_patch")]
[JsonDerivedType(typeof(AcceptRemedy), "accept_remedy")]
[JsonDerivedType(typeof(DismissQuestion), "dismiss_question")]
[JsonDerivedType(typeof(Ask), "ask")]
public abstract record BenchCommand
{
    private BenchCommand()
    {
    }

    /// <summary>Take the last step back.</summary>
    public sealed record Undo : BenchCommand;

    /// <summary>Read the patch again from its first read.</summary>
    public sealed record ReadPatchAgain : BenchCommand;

    public sealed record LeaveOutRead(string Reason) : BenchCommand;

    /// <summary>Leave out the patch that comes next.</summary>
    public sealed record LeaveOutPatch(string Reason) : BenchCommand;

    /// <summary>The remedy that a question proposes is carried out.</summary>
    /// <param name="Key">The question's key.</param>
    public sealed record AcceptRemedy(string Key) : BenchCommand;

    /// <summary>The strip stays as it is, whatever a question proposes.</summary>
    /// <param name="Key">The question's key.</param>
    public sealed record DismissQuestion(string Key) : BenchCommand;

    /// <summary>Not the user's: the program asks. It is in the journal so that a session is rebuilt without asking anew.</summary>
    /// <param name="Reads">How many reads had been taken; what was in the journal before it may have gone on since.</param>
    public sealed record Ask(AskedQuestion Question, int Reads) : BenchCommand;

    /// <summary>Yes to the open question; the journal has it as <see cref="AcceptRemedy"/>.</summary>
    public sealed record Yes : BenchCommand;

    /// <summary>No to the open question; the journal has it as <see cref="DismissQuestion"/>.</summary>
    public sealed record No : BenchCommand;

    /// <summary>The strip is complete; keep it. Its record says so, the journal does not.</summary>
    public sealed record Keep : BenchCommand;

    /// <summary>Let the instrument read. It is no decision: what the instrument then sends is in the journal, whoever let it.</summary>
    public sealed record Trigger : BenchCommand;

    /// <summary>Stop; every line stays in the store. The session's end says so, the journal does not.</summary>
    public sealed record Cancel : BenchCommand;

    /// <summary>
    /// A command of somebody who looks at the session from elsewhere, and may see it a moment late: it counts for what they saw, or not at
    /// all. The journal has the command by itself.
    /// </summary>
    /// <param name="At">The number of the journal's last entry that they had seen.</param>
    /// <param name="Answer">Is told whether it was carried out, once that is shown; false when the session had changed.</param>
    public sealed record Seen(BenchCommand Command, int At, Action<bool> Answer) : BenchCommand;
}

/// <summary>The user's decisions as the journal has them, such as <c>{"do":"leave_out_read","reason":"dust"}</c>.</summary>
internal static class DecisionJson
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        RespectRequiredConstructorParameters = true,
        RespectNullableAnnotations = true,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower) },
        TypeInfoResolver = new DefaultJsonTypeInfoResolver { Modifiers = { NameRemedies } },
    };

    public static string Of(BenchCommand decision) => JsonSerializer.Serialize(decision, Options);

    /// <exception cref="BenchException">This version knows no such decision, so the session cannot be rebuilt by it.</exception>
    public static BenchCommand Parse(string json)
    {
        try
        {
            return JsonSerializer.Deserialize<BenchCommand>(json, Options) ?? throw Unknown(json, null);
        }
        catch (Exception e) when (e is JsonException or NotSupportedException)
        {
            throw Unknown(json, e);
        }
    }

    /// <summary>The words for remedies; one that is in a journal somewhere never changes.</summary>
    private static void NameRemedies(JsonTypeInfo type)
    {
        if (type.Type != typeof(Remedy))
        {
            return;
        }

        type.PolymorphismOptions = new JsonPolymorphismOptions
        {
            TypeDiscriminatorPropertyName = "do",
            DerivedTypes =
            {
                new JsonDerivedType(typeof(Remedy.ReorderPatches), "reorder_patches"),
                new JsonDerivedType(typeof(Remedy.ExchangeChannels), "exchange_channels"),
                new JsonDerivedType(typeof(Remedy.ReadPatchAgain), "read_patch_again"),
                new JsonDerivedType(typeof(Remedy.LeaveOutRead), "leave_out_read"),
                new JsonDerivedType(typeof(Remedy.CheckZero), "check_zero"),
                new JsonDerivedType(typeof(Remedy.CheckSlope), "check_slope"),
                new JsonDerivedType(typeof(Remedy.WaitAndDry), "wait_and_dry"),
                new JsonDerivedType(typeof(Remedy.ChooseLot), "choose_lot"),
                new JsonDerivedType(typeof(Remedy.SwitchInstrument), "switch_instrument"),
                new JsonDerivedType(typeof(Remedy.None), "look"),
            },
        };
    }

    private static BenchException Unknown(string json, Exception? inner) => new(
        "The session's journal has a decision that this version of the program "
        + $"does not know: {json}. Go on with the version that wrote it.",
        inner);
}
