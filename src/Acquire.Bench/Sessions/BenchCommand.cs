using System.Text.Json.Serialization;

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

    /// <summary>Leave out the last read.</summary>
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
    /// <param name="Question">The question.</param>
    /// <param name="Reads">How many reads had been taken; what was in the journal before it may have gone on since.</param>
    public sealed record Ask(AskedQuestion Question, int Reads) : BenchCommand;

    /// <summary>Yes to the open question; the journal has it as <see cref="AcceptRemedy"/>.</summary>
    public sealed record Yes : BenchCommand;

    /// <summary>No to the open question; the journal has it as <see cref="DismissQuestion"/>.</summary>
    public sealed record No : BenchCommand;

    /// <summary>The strip is complete; keep it. Its record says so, the journal does not.</summary>
    public sealed record Keep : BenchCommand;

    /// <summary>Stop; every line stays in the store. The session's end says so, the journal does not.</summary>
    public sealed record Cancel : BenchCommand;
}
