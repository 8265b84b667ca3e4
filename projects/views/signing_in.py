"""Signing in and out, choosing a password, and what was typed while the session had ended."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from functools import partial
from http import HTTPStatus
from typing import Any

from django.contrib.auth import login, logout
from django.contrib.auth.tokens import default_token_generator
from django.contrib.auth.views import RedirectURLMixin
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.decorators import method_decorator
from django.utils.encoding import force_str
from django.utils.http import urlsafe_base64_decode
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe
from django.views.generic import FormView

from projects import kept, own_phone, services, sessions
from projects.access import allowed, member, without_sign_in
from projects.errors import NotAllowed, UserError
from projects.forms.people import ChangePasswordForm, PasswordForm, SignInForm
from projects.messages import words
from projects.models import Membership, User
from projects.notices import say
from projects.rights import Action
from projects.selectors import OwnPhone, device_of, membership_in, memberships_of, phones_of

LEFT_BEHIND = '"cache", "storage"'  # pages kept for days without signal go with the session


@method_decorator([sensitive_post_parameters("password"), never_cache], name="dispatch")
class SignIn(RedirectURLMixin, FormView):
    """Sign in with address and password; a foreign `next` is ignored."""

    template_name = "projects/sign_in.html"
    form_class = SignInForm
    next_page = "home"

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        """Send whoever is signed in already to where they were going."""
        if request.user.is_authenticated:
            return redirect(self.get_success_url())
        return super().dispatch(request, *args, **kwargs)

    def get_form_kwargs(self) -> dict[str, Any]:
        """Give the form the request: the guard against guessing looks at it."""
        return {**super().get_form_kwargs(), "request": self.request, "label_suffix": ""}

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        """Say whether an entry waits to be sent again."""
        return super().get_context_data(**kwargs, next=self.get_redirect_url(), kept=kept.entry(self.request))

    def form_valid(self, form: SignInForm) -> HttpResponse:
        """Start a session with a new id; what was kept before comes along."""
        user = form.get_user()
        login(self.request, user)
        memberships = memberships_of(user)
        chosen = sessions.chosen(self.request.session, memberships)
        sessions.begin(self.request.session, membership=chosen, now=time.time())
        response = redirect(self.get_success_url())
        if chosen is not None and form.cleaned_data["own_phone"]:
            self._stay(response, chosen)
        return response

    def _stay(self, response: HttpResponse, by: Membership) -> None:
        try:
            own_phone.keep(self.request, response, by=by)
        except NotAllowed as error:
            say(self.request, f"{words(error)} You are signed in for as long as always.")

    def form_invalid(self, form: SignInForm) -> HttpResponse:
        """Show the form again, as a refusal."""
        return self.render_to_response(
            self.get_context_data(form=form), status=HTTPStatus.UNPROCESSABLE_ENTITY
        )


sign_in = without_sign_in(SignIn.as_view())


@without_sign_in
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """End the session and the phone it is of, and have the browser drop what it kept of our pages."""
    by: Membership | None = request.membership  # type: ignore[attr-defined]
    if by is not None:
        own_phone.end(request, by=by)
    logout(request)
    response = redirect("sign-in")
    own_phone.take_away(response)
    response["Clear-Site-Data"] = LEFT_BEHIND
    return response


@without_sign_in
@sensitive_post_parameters("password")
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def choose_password(request: HttpRequest, who: str, token: str) -> HttpResponse:
    """Let the holder of an unused link choose a password; the link dies with it."""
    user = _user_of_link(who, token)
    if user is None:
        return render(request, "projects/old_link.html", status=HTTPStatus.NOT_FOUND)

    def signed_out(_: User) -> HttpResponse:
        logout(request)
        say(request, "Your password is set. Sign in with it.")
        return redirect("sign-in")

    return _password_page(request, user, signed_out)


@sensitive_post_parameters("password", "old_password")
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.SEE_SHEETS)
def change_password(request: HttpRequest) -> HttpResponse:
    """Let a signed-in person choose another password; every other session of theirs ends."""
    by = member(request)

    def still_here(user: User) -> HttpResponse:
        login(request, user, backend="django.contrib.auth.backends.ModelBackend")
        sessions.begin(request.session, membership=by, now=time.time())
        say(request, "Your password is changed. Other phones and computers are signed out.")
        return redirect("home")

    form = partial(ChangePasswordForm, request=request)
    return _password_page(request, by.user, still_here, form=form, phones=phones_of(by.user))


@require_POST
@allowed(Action.SEE_SHEETS)
def end_device(request: HttpRequest, pk: int) -> HttpResponse:
    """Sign out one phone that stays signed in: one's own, or for the owner anybody's."""
    by = member(request)
    device = services.end_device(by=by, device=device_of(by.company, pk))
    say(request, f"{device.name} is signed out. It asks for the password next time.")
    if device.user_id == by.user_id:
        return redirect("password")
    return redirect("person", membership_in(by.company, device.user_id).pk)


@require_safe
@allowed(Action.SEE_SHEETS)
def kept_entry(request: HttpRequest) -> HttpResponse:
    """Show what was typed while the session had ended, ready to be sent again."""
    entry = kept.entry(request)
    context = {"entry": entry, "mark": kept.MARK, "shown": kept.shown(entry) if entry else []}
    return render(request, "projects/kept_entry.html", context)


@require_POST
@allowed(Action.SEE_SHEETS)
def drop_kept_entry(request: HttpRequest) -> HttpResponse:
    """Forget what was kept."""
    kept.drop(request)
    return redirect("home")


def _password_page(
    request: HttpRequest,
    user: User,
    done: Callable[[User], HttpResponse],
    *,
    form: Callable[..., PasswordForm] = PasswordForm,
    phones: Sequence[OwnPhone] | None = None,
) -> HttpResponse:
    if request.method != "POST":
        return render(request, "projects/password.html", {"form": form(), "person": user, "phones": phones})
    sent = form(request.POST)
    context = {"form": sent, "person": user, "phones": phones}
    if sent.is_valid():
        try:
            services.choose_password(user=user, password=sent.cleaned_data["password"])
        except UserError as error:
            sent.refuse(error)
        else:
            return done(user)
    return render(request, "projects/password.html", context, status=HTTPStatus.UNPROCESSABLE_ENTITY)


def _user_of_link(who: str, token: str) -> User | None:
    try:
        pk = int(force_str(urlsafe_base64_decode(who)))
    except (ValueError, UnicodeDecodeError):
        return None
    user = User.objects.filter(pk=pk, is_active=True).first() if 0 < pk < 2**63 else None
    if user is None or not default_token_generator.check_token(user, token):
        return None
    return user
